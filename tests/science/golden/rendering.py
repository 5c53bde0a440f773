"""Golden consultations as text: the request as it was written, and the answer line by line below it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from service.knowledge.catalogue import EXERCISES, REGIONS
from tests.support.golden import ANSWER, Consultation


def rendered(asked: Consultation) -> str:
    """The whole text of a file: its head and the answer of the service as it stands."""
    told = _adjustments if asked.operation == "adjustments" else _anything
    return "\n".join([asked.head, "", ANSWER, "", *told(asked.answer)]).rstrip() + "\n"


def _anything(answer: dict[str, Any], depth: int = 0) -> Iterator[str]:
    """Any answer as an indented list."""
    indent = "  " * depth
    for name, value in answer.items():
        if isinstance(value, dict) and not _is_figure(value) and not _is_message(value):
            yield f"{indent}- {name}:"
            yield from _anything(value, depth + 1)
        elif isinstance(value, list) and value:
            yield f"{indent}- {name}:"
            for number, item in enumerate(value, 1):
                if isinstance(item, dict) and not _is_message(item):
                    yield f"{indent}  - {number}:"
                    yield from _anything(item, depth + 2)
                else:
                    yield f"{indent}  - {_plain(item)}"
        else:
            yield f"{indent}- {name}: {_plain(value)}"


def _is_figure(value: Any) -> bool:  # noqa: ANN401 - any JSON
    return isinstance(value, dict) and ("value" in value or value.keys() == {"low", "high"})


def _is_message(value: Any) -> bool:  # noqa: ANN401 - any JSON
    return isinstance(value, dict) and value.keys() == {"code", "values", "text"}


def _plain(value: Any) -> str:  # noqa: ANN401 - any JSON
    if _is_message(value):
        return str(value["text"])
    if _is_figure(value):
        return figure(value) if "value" in value else _range(value)
    if isinstance(value, float):
        return f"{value:.4g}"
    return "none" if value in (None, [], {}) else str(value)


def figure(value: dict[str, Any], digits: int = 3) -> str:
    """A quantity or an estimate with its span."""
    unit = f" {value['unit']}" if value.get("unit") else ""
    span = ""
    if "low" in value and value["low"] != value["high"]:
        span = f" ({value['low']:.{digits}g} to {value['high']:.{digits}g})"
    return f"{value['value']:.{digits + 1 if not span else digits}g}{span}{unit}"


def _range(reps: dict[str, Any]) -> str:
    low, high = reps["low"], reps["high"]
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def _adjustments(answer: dict[str, Any]) -> Iterator[str]:
    yield f"Decision: {answer['decision']}; tier: {answer['tier']}"
    yield from (f"- {one['text']}" for one in answer["why"])
    if "target" in answer:
        target = answer["target"]
        yield f"Target: {REGIONS[target['region']].name.lower()} to {target['ratio']:.3g} of its present demand"
        yield f"Rule: {target['rule']['text']}"
    if "baseline" in answer:
        yield from _baseline(answer["baseline"])
    if "referral" in answer:
        yield from _referral(answer["referral"])
    if "confirmation" in answer:
        yield from _confirmation(answer["confirmation"])
    if "pause" in answer:
        yield from _pause(answer["pause"])
    yield from _meanwhile(answer.get("meanwhile", []))
    for option in answer["options"]:
        yield from _option(option)
    yield from _remarks(answer)


def _baseline(baseline: dict[str, Any]) -> Iterator[str]:
    told = [f"{joint.replace('_', ' ')} {figure(moment)}" for joint, moment in baseline["moments"].items()]
    yield f"Present moments: {', '.join(told) or 'not computed'}"
    if baseline["trunk_lean"]:
        yield f"Present trunk lean: {figure(baseline['trunk_lean'])}"


def _referral(referral: dict[str, Any]) -> Iterator[str]:
    yield f"Urgency: {referral['urgency']}"
    yield f"What to do: {referral['what_to_do']['text']}"
    yield f"Stop rule: {referral['stop_rule']['text']}"
    for sign in referral["signs"]:
        yield f"- {sign['id']} ({sign['urgency']}): {sign['message']['text']}"


def _confirmation(confirmation: dict[str, Any]) -> Iterator[str]:
    yield f"What to do: {' '.join(one['text'] for one in confirmation['what_to_do'])}"
    yield f"Stop rule: {confirmation['stop_rule']['text']}"
    for circumstance in confirmation["circumstances"]:
        yield f"- {circumstance['id']}: {circumstance['message']['text']}"


def _pause(pause: dict[str, Any]) -> Iterator[str]:
    professional = pause["professional"]
    yield f"Pause of the {REGIONS[pause['region']].name.lower()}: {pause['rule']}"
    yield f"Looked at again: {pause['look_again']['days']} days ({pause['look_again']['known']})"
    yield f"Professional: {professional['urgency']}, first: {professional['required_first']}"
    yield f"What to do: {professional['what_to_do']['text']}"


def _meanwhile(groups: list[dict[str, Any]]) -> Iterator[str]:
    for group in groups:
        yield f"Meanwhile, {group['muscle']}: {', '.join(group['exercises'])}"


def _option(option: dict[str, Any]) -> Iterator[str]:
    program = f" (program: {option['program']})" if "program" in option else ""
    yield ""
    yield f"### {option['rank']}. {', '.join(option['levers'])}{program}"
    yield ""
    yield option["words"]
    yield f"Prescription: {_prescription(option['prescription'])}"
    yield f"Meets the target by: {option['meets_by']}; evidence: {option['basis']['evidence']}"
    exposure = option["session_exposure"]
    yield f"Demand of a session on the sore region: {'not known' if exposure is None else f'{exposure:.3g}'}"
    yield "Demand of a repetition:"
    for region, direction in option.get("direction", {}).items():
        ratio = option["demand"].get(region)
        yield f"- {REGIONS[region].name.lower()}: {direction}{f', {figure(ratio)}' if ratio else ''}"
    yield f"Stimulus: {_stimulus(option['stimulus'])}"
    if "ramp" in option:
        yield f"Ramp: {_ramp(option['ramp'])}"
    yield "Why:"
    yield from (f"- {one['text']}" for one in option["why"])
    yield f"Cautions: {', '.join(option.get('cautions', ()))}"
    yield f"Sources: {', '.join(option['basis']['sources'])}"


def _prescription(new: dict[str, Any]) -> str:
    parts = [
        EXERCISES[new["exercise"]].name,
        f"{new['sets']} x {_range(new['reps'])}",
        figure(new["load"], 4) + (f", {figure(new['assistance'], 4)} of assistance" if "assistance" in new else ""),
        f"{new['reps_in_reserve']:g} in reserve",
    ]
    if "days_per_week" in new:
        parts.append("1 day a week" if new["days_per_week"] == 1 else f"{new['days_per_week']} days a week")
    parts.extend(f"{name} {_plain(new[name])}" for name in ("tempo", "hold", "rest") if name in new)
    for name in ("depth", "technique"):
        for what, value in new.get(name, {}).items():
            if value is not None:
                parts.append(f"{what.replace('_', ' ')} {_plain(value)}")
    return "; ".join([*parts, *new.get("cues", ())])


def _stimulus(stimulus: dict[str, Any]) -> str:
    kept = stimulus["kept"]
    told = [
        f"{name.replace('_', ' ')} {figure(value) if isinstance(value, dict) else f'{value:.3g}'}"
        for name, value in stimulus.items()
        if value is not None and name != "kept"
    ]
    by_part = kept["parts"] | {f"{muscle} (muscle)": part for muscle, part in kept["muscles"].items()}
    parts = "; ".join(f"{name.replace('_', ' ')} {_spanned(part)}" for name, part in by_part.items())
    return ", ".join([*told, f"kept {_spanned(kept)}{f' ({parts})' if parts else ''}"])


def _spanned(part: dict[str, Any]) -> str:
    """A share with its span where there is one."""
    value = f"{part['value']:.3g}"
    return value if "low" not in part else f"{value} [{part['low']:.3g}, {part['high']:.3g}]"


def _ramp(ramp: dict[str, Any]) -> str:
    step = "no step" if ramp["step"] is None else f"steps of {figure(ramp['step'], 3)}"
    known = ramp["expected"]
    expected = "no ratio" if known is None else f"expected {figure(known['low'], 4)} to {figure(known['high'], 4)}"
    start, most = figure(ramp["start"], 4), figure(ramp["at_most"], 4)
    return f"from {start}, {step}, to {most} at most, {ramp['reps_in_reserve']:g} in reserve; {expected}"


def _remarks(answer: dict[str, Any]) -> Iterator[str]:
    yield ""
    yield "### What goes with it"
    yield ""
    yield from (f"- {caution['code']}: {caution['text']}" for caution in answer["cautions"])
    yield f"- method: {answer['basis']['method']['text']}"
    yield from (f"- assumption: {one['text']}" for one in answer["basis"]["assumptions"])
    yield f"- sources: {', '.join(answer['basis']['sources'])}"
    if answer["considered"]:
        yield ""
        yield f"### Ruled out ({answer['considered']} considered)"
        yield ""
        for group in answer["ruled_out"]:
            yield f"- {group['lever']}, {group['code']}: {group['count']}"
            for one in group["trials"]:
                tried = f"{one['tried']['text']}: " if one["tried"] else ""
                yield f"  - {', '.join(one['levers'])}: {tried}{one['reason']['text']}"
