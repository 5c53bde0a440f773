"""Each alert is raised by what it is for, by nothing that is usual, and asks for figures that there are."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path
from typing import Any, Final

import pytest
import yaml

from service.observability.metrics import REGISTRY
from tests.support.manifests import COMPOSE, of_kind, read
from tests.support.paths import ROOT

RULES: Final = ROOT / "deploy" / "alerts" / "rules.yaml"
ALERTS: Final = {rule["alert"]: rule for group in read(RULES)["groups"] for rule in group["rules"]}
JOB: Final = 'job="program-adjustment-service"'
FIRST, SECOND = (f'{JOB},instance="{name}"' for name in ("a", "b"))
MINUTES: Final = 60
OF_THE_PROXY: Final = {
    "haproxy_backend_active_servers",
    "haproxy_backend_response_errors_total",
    "haproxy_backend_current_queue",
    "haproxy_frontend_requests_denied_total",
}
"""Seen with their help texts at the figures of HAProxy 2.6."""

ROUTE: Final = 'route="/v1/rest"'
BULK: Final = 'route="/v1/tables/rest"'
BUSY: Final = {
    f"up{{{FIRST}}}": "1x60",
    f"up{{{SECOND}}}": "1x60",
    f"process_start_time_seconds{{{FIRST}}}": "1000x30 2000x30",
    f"process_resident_memory_bytes{{{FIRST}}}": "100000000x60",
    f"process_open_fds{{{FIRST}}}": "200x60",
    f"process_max_fds{{{FIRST}}}": "1024x60",
    f'requests_total{{{FIRST},{ROUTE},status="200"}}': "0+60000x60",
    f'requests_total{{{FIRST},{ROUTE},status="422"}}': "0+60000x60",
    f'requests_total{{{FIRST},{ROUTE},status="500"}}': "7x60",
    f'requests_total{{{FIRST},{ROUTE},status="503"}}': "0x30 50x30",
    f"requests_shed_total{{{FIRST}}}": "0x30 50x30",
    f'request_seconds_bucket{{{FIRST},{ROUTE},le="0.05"}}': "0+60000x60",
    f'request_seconds_bucket{{{FIRST},{ROUTE},le="2.5"}}': "0+60000x60",
    f'request_seconds_bucket{{{FIRST},{ROUTE},le="+Inf"}}': "0+60000x60",
    f'request_seconds_bucket{{{FIRST},{BULK},le="0.05"}}': "0x60",
    f'request_seconds_bucket{{{FIRST},{BULK},le="2.5"}}': "0+10x60",
    f'request_seconds_bucket{{{FIRST},{BULK},le="+Inf"}}': "0+10x60",
    f'event_loop_lag_seconds_bucket{{{FIRST},le="0.05"}}': "0+240x60",
    f'event_loop_lag_seconds_bucket{{{FIRST},le="2.5"}}': "0+240x60",
    f'event_loop_lag_seconds_bucket{{{FIRST},le="+Inf"}}': "0+240x60",
    f"quota_store_failures_total{{{FIRST}}}": "0x30 2x30",
    f"key_file_unread_seconds{{{FIRST}}}": "0x30 60 120 0x28",
    f"log_lines_dropped_total{{{FIRST}}}": "3x60",
    'haproxy_backend_active_servers{proxy="replicas"}': "2x28 1x2 2x30",
    'haproxy_backend_response_errors_total{proxy="replicas"}': "5x60",
    'haproxy_backend_current_queue{proxy="replicas"}': "0x30 3x2 0x28",
    'haproxy_frontend_requests_denied_total{proxy="api"}': "0+10x60",
}
"""An hour of two replicas at work: one is renewed in the middle, with a moment of shedding and of the store away."""

FAULTS: Final = {
    "ServiceAway": {f"up{{{FIRST}}}": "1x50 0x10", f"up{{{SECOND}}}": "1x50 0x10"},
    "TooFewReplicas": {f"up{{{SECOND}}}": "1x40 0x20"},
    "ReplicaRestarts": {f"process_start_time_seconds{{{FIRST}}}": "0+100x60"},
    "FaultsOfOurOwn": {f'requests_total{{{FIRST},{ROUTE},status="500"}}': "7x55 8x5"},
    "ManyFailures": {f'requests_total{{{FIRST},{ROUTE},status="503"}}': "0+2000x60"},
    "RequestsShed": {f"requests_shed_total{{{FIRST}}}": "0+1x60"},
    "SlowAnswers": {f'request_seconds_bucket{{{FIRST},{ROUTE},le="0.05"}}': "0+59000x60"},
    "EventLoopLate": {f'event_loop_lag_seconds_bucket{{{FIRST},le="0.05"}}': "0+230x60"},
    "QuotaStoreAway": {f"quota_store_failures_total{{{FIRST}}}": "0+1x60"},
    "KeyFileUnread": {f"key_file_unread_seconds{{{FIRST}}}": "0x50 60+60x9"},
    "LogLinesDropped": {f"log_lines_dropped_total{{{FIRST}}}": "3x55 4x5"},
    "MemoryNearLimit": {f"process_resident_memory_bytes{{{FIRST}}}": "220000000x60"},
    "OpenFilesNearLimit": {f"process_open_fds{{{FIRST}}}": "900x60"},
    "ProxyWithOneReplica": {'haproxy_backend_active_servers{proxy="replicas"}': "2x50 1x10"},
    "AnswersCutOff": {'haproxy_backend_response_errors_total{proxy="replicas"}': "5x55 6x5"},
    "RequestsWaitInTheProxy": {'haproxy_backend_current_queue{proxy="replicas"}': "3x60"},
    "ClientsLimited": {'haproxy_frontend_requests_denied_total{proxy="api"}': "0+100x60"},
}
"""For each alert what is not as usual when it is to be raised."""


def promtool(*arguments: str) -> subprocess.CompletedProcess[str]:
    if shutil.which("promtool") is None:
        pytest.fail("the program promtool is missing: it is in Debian's package prometheus")
    return subprocess.run(["promtool", *arguments], capture_output=True, text=True, check=False)


def raised(alert: str) -> str:
    return f'count(ALERTS{{alertname="{alert}",alertstate="firing"}}) or vector(0)'


def case(name: str, series: dict[str, str], expected: dict[str, int], minutes: range) -> dict[str, Any]:
    """One test of promtool's: these series, and whether alerts are raised at these minutes."""
    return {
        "name": name,
        "interval": "1m",
        "input_series": [{"series": key, "values": values} for key, values in series.items()],
        "promql_expr_test": [
            {"expr": raised(alert), "eval_time": f"{minute}m", "exp_samples": [{"labels": "{}", "value": count}]}
            for alert, count in expected.items()
            for minute in minutes
        ],
    }


def test_the_rules_are_valid() -> None:
    done = promtool("check", "rules", "--lint=all", "--lint-fatal", str(RULES))
    assert done.returncode == 0, done.stdout + done.stderr


def test_each_alert_is_raised_by_its_fault_and_none_by_what_is_usual(tmp_path: Path) -> None:
    assert set(FAULTS) == set(ALERTS)
    cases = [case("usual", BUSY, dict.fromkeys(ALERTS, 0), range(1, MINUTES))]
    cases += [case(alert, BUSY | change, {alert: 1}, range(MINUTES - 1, MINUTES)) for alert, change in FAULTS.items()]
    file = tmp_path / "alerts.yaml"
    file.write_text(yaml.safe_dump({"rule_files": [str(RULES)], "evaluation_interval": "1m", "tests": cases}))
    done = promtool("test", "rules", str(file))
    assert done.returncode == 0, done.stdout + done.stderr


def test_every_figure_is_there() -> None:
    served = {sample.name for family in REGISTRY.collect() for sample in family.samples}
    families = {family.name for family in REGISTRY.collect()}
    served |= {f"{name}{end}" for name in families for end in ("_total", "_bucket")}
    text = " ".join(rule["expr"] for rule in ALERTS.values())
    asked = set(re.findall(r"\b(\w+)\{", text)) - {"up"}
    assert {name for name in asked if name.startswith("haproxy_")} == OF_THE_PROXY
    assert asked - OF_THE_PROXY - served == set()


def test_memory_is_measured_by_the_limit() -> None:
    (container,) = of_kind("Deployment")["spec"]["template"]["spec"]["containers"]
    limit = int(container["resources"]["limits"]["memory"].removesuffix("Mi")) * 2**20
    assert ALERTS["MemoryNearLimit"]["expr"].endswith(f"> 0.8 * {limit}")
    in_compose = read(COMPOSE)["x-replica"]["deploy"]["resources"]["limits"]["memory"]
    assert int(in_compose.removesuffix("M")) * 2**20 == limit


def test_each_alert_says_how_urgent_it_is_and_what_to_do() -> None:
    readme = (ROOT / "deploy" / "README.md").read_text()
    for name, rule in ALERTS.items():
        assert rule["labels"]["severity"] in {"page", "ticket"}, name
        assert rule["annotations"]["summary"], name
        assert f"| {name} |" in readme, name
