"""The compose file is one that Compose accepts, and what it starts is shut off as far as it can be."""

from __future__ import annotations

import os
import re
import subprocess
from pathlib import Path
from typing import Any, Final

import pytest
import yaml

from service import __version__
from tests.support.manifests import COMPOSE, COMPOSE_TLS, PROXY, graceful_shutdown, not_read, of_kind, read

REPLICAS: Final = ("replica-1", "replica-2")


def compose(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    kept = {name: value for name, value in os.environ.items() if name in {"PATH", "HOME"}}
    command = ["docker-compose", "--file", str(COMPOSE), *arguments]
    return subprocess.run(command, env=kept | environment, capture_output=True, text=True, check=False)


@pytest.fixture(scope="module")
def resolved(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What Compose makes of the file, with nothing set but where the keys are."""
    keys = tmp_path_factory.mktemp("compose") / "api-keys"
    keys.touch()
    done = compose("config", API_KEYS=str(keys), QUOTA_SECRET="given")  # noqa: S106 - no password, and not a real one
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = yaml.safe_load(done.stdout)
    return found


@pytest.fixture(scope="module")
def services(resolved: dict[str, Any]) -> dict[str, Any]:
    assert set(resolved["services"]) == {*REPLICAS, "proxy", "valkey"}
    found: dict[str, Any] = resolved["services"]
    return found


@pytest.mark.parametrize(("missing", "given"), [("API_KEYS", "QUOTA_SECRET"), ("QUOTA_SECRET", "API_KEYS")])
def test_it_does_not_start_without(missing: str, given: str) -> None:
    done = compose("config", "--quiet", **{given: "given"})
    assert done.returncode != 0
    assert missing in done.stderr


def test_every_container_is_shut_off(services: dict[str, Any]) -> None:
    for name, service in services.items():
        assert service["read_only"] is True, name
        assert service["cap_drop"] == ["ALL"], name
        assert service["security_opt"] == ["no-new-privileges:true"], name
        assert service["healthcheck"], name
        assert set(service["deploy"]["resources"]["limits"]) == {"cpus", "memory"}, name
        assert "privileged" not in service, name


def test_the_replicas_are_alike(services: dict[str, Any]) -> None:
    first, second = (services[name] for name in REPLICAS)
    assert first == second
    assert first["image"].endswith(f":{__version__}")


def test_only_the_proxy_is_reached_from_outside(resolved: dict[str, Any], services: dict[str, Any]) -> None:
    assert [name for name, service in services.items() if "ports" in service] == ["proxy"]
    assert [name for name, service in services.items() if "outside" in service["networks"]] == ["proxy"]
    assert resolved["networks"]["inside"]["internal"] is True
    (published,) = services["proxy"]["ports"]
    assert str(published).startswith("127.0.0.1:")


def test_every_image_has_a_version(services: dict[str, Any]) -> None:
    named = {service["image"] for service in services.values()}
    assert [image for image in named if not re.search(r":\d+\.\d+", image)] == []


def test_no_secret_is_in_the_file(services: dict[str, Any]) -> None:
    names = {name for service in services.values() for name in service.get("environment", {})}
    secret_names = {name for name in names if re.search(r"KEY|TOKEN|SECRET|PASSWORD", name)} - {"LIMIT_KEY"}
    assert secret_names == {"API_KEYS_FILE", "QUOTA_SECRET"}
    for name in REPLICAS:
        assert ("QUOTA_SECRET", "given") in services[name]["environment"].items()
        (secret,) = services[name]["secrets"]
        assert services[name]["environment"]["API_KEYS_FILE"] == f"/run/secrets/{secret['source']}"


def test_the_settings_are_those_of_the_other_deployment(services: dict[str, Any]) -> None:
    expected = {*of_kind("ConfigMap")["data"], "REDIS_URL", "QUOTA_SECRET"}
    assert set(services["replica-1"]["environment"]) == expected


def test_the_proxy_is_believed_about_whom_it_asks_for(resolved: dict[str, Any], services: dict[str, Any]) -> None:
    (network,) = resolved["networks"]["inside"]["ipam"]["config"]
    assert [services[name]["environment"]["TRUSTED_PROXIES"] for name in REPLICAS] == [network["subnet"]] * 2


def test_the_proxy_is_told_all_that_it_asks(services: dict[str, Any]) -> None:
    asked = set(re.findall(r'"\$\{(\w+)', PROXY.read_text()))
    proxy = services["proxy"]
    assert set(proxy["environment"]) == asked
    assert [f"{name}:8000" for name in REPLICAS] == [proxy["environment"][f"REPLICA_{number}"] for number in (1, 2)]
    (mounted,) = proxy["volumes"]
    assert Path(mounted.split(":")[0]) == PROXY


def test_every_setting_is_one_of_the_service(services: dict[str, Any]) -> None:
    assert not_read(set(services["replica-1"]["environment"])) == set()


def test_a_replica_has_time_to_finish() -> None:
    replica = read(COMPOSE)["services"]["replica-1"]
    drain = int(replica["environment"]["DRAIN_SECONDS"])
    assert int(replica["stop_grace_period"].removesuffix("s")) >= drain + graceful_shutdown() + 5


def test_a_replica_serves_on_until_the_proxy_has_seen_that_it_stops() -> None:
    found = re.search(r"^ +default-server check inter (\d+)s rise \d+ fall (\d+)", PROXY.read_text(), re.MULTILINE)
    assert found is not None
    between, times = map(int, found.groups())
    drain = int(read(COMPOSE)["services"]["replica-1"]["environment"]["DRAIN_SECONDS"])
    assert drain > between * (times + 1), "a check more, for the one that was under way"


def test_a_log_that_is_not_written_holds_up_no_answer(services: dict[str, Any]) -> None:
    for name, service in services.items():
        options = service["logging"]["options"]
        assert (options["mode"], bool(options["max-buffer-size"])) == ("non-blocking", True), name
        assert {"max-size", "max-file"} <= set(options), name
        assert service["logging"]["driver"] in {"local", "json-file"}, name


def test_with_a_certificate_the_proxy_speaks_tls_where_it_spoke_http(tmp_path: Path, services: dict[str, Any]) -> None:
    for name in ("keys", "certificate"):
        (tmp_path / name).touch()
    given = {"API_KEYS": str(tmp_path / "keys"), "CERTIFICATE": str(tmp_path / "certificate")}
    done = compose("--file", str(COMPOSE_TLS), "config", QUOTA_SECRET="given", **given)  # noqa: S106 - no password
    assert done.returncode == 0, done.stderr
    proxy = yaml.safe_load(done.stdout)["services"]["proxy"]
    before = services["proxy"]
    plain = before["environment"]["PROXY_BIND"]
    (secret,) = proxy["secrets"]
    changed = f"{plain} ssl crt /run/secrets/{secret['source']} alpn h2,http/1.1"
    networks = dict.fromkeys(proxy["networks"])
    environment = before["environment"] | {"PROXY_BIND": changed}
    assert proxy | {"networks": networks} == before | {"environment": environment, "secrets": [secret]}


def test_without_a_certificate_it_does_not_start_with_tls(tmp_path: Path) -> None:
    (tmp_path / "keys").touch()
    given = {"API_KEYS": str(tmp_path / "keys"), "QUOTA_SECRET": "given"}
    done = compose("--file", str(COMPOSE_TLS), "config", "--quiet", **given)
    assert done.returncode != 0
    assert "CERTIFICATE" in done.stderr
