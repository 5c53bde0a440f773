"""Hostile requests made from good ones, by a seed: the same on every machine."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from random import Random
from typing import Any, Final

from service.api.operations.registry import OPERATIONS
from tests.live.hostile.wire import Sent

QUESTIONS: Final[dict[str, list[Any]]] = {
    operation.path: [example.request for example in operation.examples] for operation in OPERATIONS
}
PATHS: Final = [*QUESTIONS]
# values that a JSON reader or a number may trip over, as they stand in JSON
ODD: Final = (
    *(
        "null",
        "true",
        "[]",
        "{}",
        '""',
        "0",
        "-0",
        "-1",
        "1e308",
        "1e999",
        "-1e999",
        "1e-999",
        "9" * 400,
        "0." + "3" * 400,
    ),
    *("NaN", "Infinity", '"NaN"', '"1"', '"\\u0000"', '"\\ud800"', '"\\udc00\\ud800"', '"' + "a" * 3000 + '"'),
    *("[" * 200 + "]" * 200, '{"a":' * 200 + "1" + "}" * 200, "[" + "1," * 2000 + "1]", '{"value": 1, "value": 2}'),
    *('{"value": 1, "unit": "kg; rm"}', '{"value": "9**9**9", "unit": "kg"}', "0x10", "1_0", "01", "+1", ".5", "1."),
    *("4503599627370497", "9007199254740993", "1e15", "2.5", "3.0000000000000004", "1.0", '"٢"', '"\u202e"'),
)
# what the query of a table may ask for, and how a table may begin
WANTED: Final = (
    *("columns=/decision,/load/value", "columns=/options/*/words", "columns=/basis/method/text", "columns=(.*)+$"),
    *("columns=" + ",".join(f"/options/{number}/words" for number in range(100)), "columns=%00", "columns=/*/*"),
    *("rows=options", "rows=relations", "rows=setups", "rows=x", "keep=x", "keep=load,x", "keep=%3D1%2B1", "keep=,"),
    *("decimal=comma", "decimal=point", "decimal=%3B"),
)
STARTS: Final = ("", "", "\ufeff", "\ufeff\ufeff", "sep=;\r\n", "sep=\t\n", '"sep=;"\n', '"sep=;\n', "sep=|\n", "sep=")
SEPARATORS: Final = ",,;\t|"
NOISE: Final = b"\x00\x01\x09\x0a\x0b\x0d\x1b\x20\x22\x25\x2c\x2f\x3a\x3b\x5c\x7f\x80\xc0\xed\xff"
FIELDS: Final = (
    *(b"transfer-encoding: chunked", b"transfer-encoding: gzip, chunked", b"content-length: 0", b"content-length: 7"),
    *(
        b"content-encoding: gzip",
        b"accept: */*;q=0",
        b"accept: image/svg+xml",
        b"accept: text/html",
        b"accept: text/markdown",
        b"accept: image/png",
        b"accept: text/csv",
        b"expect: 100-continue",
    ),
    *(b"accept-encoding: gzip;q=0.5, *;q=nan", b"if-none-match: *", b'if-none-match: W/"a", "', b"range: bytes=5-1"),
    *(
        b"connection: keep-alive, upgrade",
        b"upgrade: websocket",
        b"host: b",
        b"x-request-id: \xff",
        b"authorization: Bearer \x80",
    ),
    *(b"traceparent: 00-" + b"0" * 32, b"content-type: text/csv", b"content-type: application/json; charset=utf-16"),
    *(
        b"x-forwarded-for: 127.0.0.1, ,",
        b"origin: null",
        b"access-control-request-method: \xc3",
        b"cookie: a=" + b"b" * 900,
    ),
)


def posted(path: str, body: bytes, media_type: str = "application/json") -> bytes:
    """A request with a body."""
    head = f"POST {path} HTTP/1.1\r\nhost: a\r\nconnection: close\r\ncontent-type: {media_type}\r\n"
    return head.encode() + b"content-length: %d\r\n\r\n" % len(body) + body


def asked(target: bytes) -> bytes:
    """A request without one; target: path and query as they go out."""
    return b"GET " + target + b" HTTP/1.1\r\nhost: a\r\nconnection: close\r\n\r\n"


def _places(value: Any, at: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:  # noqa: ANN401 - any JSON
    steps = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, inner in steps:
        yield (*at, step)
        yield from _places(inner, (*at, step))


def _json_with(question: Any, place: tuple[Any, ...], text: str) -> str:  # noqa: ANN401 - any JSON
    """A question with a piece of text, which may be no JSON, in one place of it."""
    changed = copy.deepcopy(question)
    holder = changed
    for step in place[:-1]:
        holder = holder[step]
    holder[place[-1]] = "\x00here\x00"
    return json.dumps(changed, ensure_ascii=False).replace('"\\u0000here\\u0000"', text)


def _noisy(random: Random, data: bytes, most: int = 6) -> bytes:
    """Bytes with some of them changed, doubled, taken out or put in."""
    found = bytearray(data)
    for _ in range(random.randint(1, most)):
        place = random.randrange(len(found) + 1)
        match random.randrange(5):
            case 0:
                found[place:place] = bytes([random.choice(NOISE)])
            case 1:
                del found[place : place + random.randint(1, 4)]
            case 2:
                found[place : place + 1] = bytes([random.randrange(256)])
            case 3:
                found[place:place] = found[place : place + random.randint(1, 40)]
            case 4:
                found[place:place] = bytes([random.choice(NOISE)]) * random.choice((2, 50, 5000))
    return bytes(found)


def bodies(random: Random) -> Iterator[bytes]:
    """Questions with an odd value somewhere, a field too many or too few, or bytes that are no JSON."""
    while True:
        path = random.choice(PATHS)
        question = random.choice(QUESTIONS[path])
        text = json.dumps(question)
        kind = random.randrange(6)
        if kind <= 2:
            places = list(_places(question))
            text = _json_with(question, random.choice(places), random.choice(ODD))
        elif kind == 3:
            name = random.choice(("", "x", "\\u0000", "set", "~/"))
            text = text.replace("{", f'{{"{name}": {random.choice(ODD)}, ', 1)
        elif kind == 4:
            text = text[: random.randrange(len(text))] + random.choice(("", "}", "]}", '"', "\\"))
        body = _noisy(random, text.encode()) if kind == 5 else text.encode("utf-8", "surrogatepass")
        yield posted(path, body)


def addresses(random: Random) -> Iterator[bytes]:
    """Paths and queries of odd characters, broken percent-encodings, and names and values of every kind."""
    pieces = [
        b"%",
        b"%0",
        b"%zz",
        b"%00",
        b"%ff",
        b"%c0%af",
        b"%ed%a0%80",
        b"..",
        b"//",
        b"&",
        b"=",
        b";",
        b"+",
        b"?",
        b"#",
    ]
    pieces += [
        b"1",
        b"-1",
        b"1e9",
        b"nan",
        b"100kg",
        b"9**9kg",
        b"1,2",
        b"4-0-2-1",
        b"true",
        b"{}",
        b"[0]",
        b"\\",
        b"a" * 300,
    ]
    names = [
        b"as",
        b"select",
        b"load",
        b"reps",
        b"reps_in_reserve",
        b"target_reps",
        b"exercise",
        b"days",
        b"tempo",
        b"rest",
    ]
    while True:
        target = random.choice(PATHS).encode()
        if random.random() < 0.3:
            target = b"/" + b"/".join(
                random.choice([b"v1", b"signs", b"docs", *pieces]) for _ in range(random.randint(1, 5))
            )
        given = (random.choice(names + pieces) + b"=" + random.choice(pieces) for _ in range(random.randint(0, 8)))
        target += b"?" + b"&".join(given) if random.random() < 0.8 else b""
        yield asked(_noisy(random, target, 2) if random.random() < 0.3 else target)


def many_at_once(random: Random) -> Iterator[bytes]:
    """Batches and tables with rows of every kind."""
    cells = [
        "",
        "1",
        "-1",
        "1e999",
        "nan",
        "100kg",
        "100 stone",
        "=1+1",
        '"',
        '""',
        "a\u202eb",
        "\u0000",
        "x" * 2000,
        "5,5",
    ]
    names = [path.removeprefix("/v1/") for path in PATHS]
    while True:
        if random.random() < 0.5:
            items = []
            for _ in range(random.randint(0, 12)):
                path = random.choice(PATHS)
                item = {"operation": path.removeprefix("/v1/"), "body": random.choice(QUESTIONS[path]), "id": "one"}
                items.append(_json_with(item, random.choice(list(_places(item))), random.choice(ODD)))
            yield posted("/v1/batch", f'{{"requests": [{",".join(items)}]}}'.encode("utf-8", "surrogatepass"))
        else:
            columns = random.sample(["load", "reps", "reps_in_reserve", "target_reps", "days", "tempo", "x"], 3)
            sign = random.choice(SEPARATORS)
            rows = [
                sign.join(random.choices(cells, k=random.choice((3, 3, 3, 2, 4)))) for _ in range(random.randint(0, 9))
            ]
            lines = [sign.join(columns), *rows]
            table = (random.choice(STARTS) + random.choice(("\r\n", "\n", "\r")).join(lines)).encode()
            query = "&".join(random.choices(WANTED, k=random.choice((0, 0, 1, 2))))
            path = f"/v1/tables/{random.choice(names)}?{query}".rstrip("?")
            yield posted(path, _noisy(random, table, 2), "text/csv")


def wire(random: Random) -> Iterator[bytes]:
    """Good requests whose bytes are disturbed on the way: request line, fields, ends, and where the body begins."""
    good = [posted(path, json.dumps(questions[0]).encode()) for path, questions in QUESTIONS.items()]
    good += [asked(b"/v1/signs"), asked(b"/v1/exercises/front_squat"), asked(b"/livez"), asked(b"/")]
    while True:
        data = random.choice(good)
        for _ in range(random.randint(0, 3)):
            data = data.replace(b"\r\n", b"\r\n" + random.choice(FIELDS) + b"\r\n", 1)
        match random.randrange(4):
            case 0:
                head, _, body = data.partition(b"\r\n\r\n")
                data = _noisy(random, head) + b"\r\n\r\n" + body
            case 1:
                data = data[: random.randrange(len(data))]
            case 2:
                data = data.replace(b"connection: close\r\n", b"") + random.choice(good)
        yield data


def everything(seed: int, count: int) -> Iterator[Sent]:
    """As many hostile requests of all kinds in turn; each fortieth comes slowly."""
    random = Random(seed)  # noqa: S311 - repeatable on purpose
    kinds = {"bodies": bodies, "addresses": addresses, "many_at_once": many_at_once, "wire": wire}
    streams = [(name, make(random)) for name, make in kinds.items()]
    for number in range(count):
        name, stream = streams[number % len(streams)]
        yield Sent(f"{name} {number}", next(stream), pause=0.02 if number % 40 == 7 else 0.0)
