"""Each component opens, for the replicas alone, the way that its setting needs, and fits the rest."""

from __future__ import annotations

from ipaddress import ip_address, ip_network
from pathlib import Path
from typing import Any, Final
from urllib.parse import urlsplit

import pytest

from service.settings import Settings
from tests.support.manifests import (
    COMPONENTS,
    COMPOSE,
    NAME,
    documents,
    not_read,
    of_kind,
    read,
)
from tests.support.paths import ROOT

STORE: Final = "program-adjustment-store"
NODE_LOCAL_DNS: Final = "169.254.20.10"
"""Where the cache on a node answers, by its own manifest: link-local, so that no pod has it."""
BY_NAME: Final = {component.name: component for component in COMPONENTS}


def parts(component: str) -> list[dict[str, Any]]:
    """All manifests of a component."""
    folder = BY_NAME[component]
    return [part for name in read(folder / "kustomization.yaml")["resources"] for part in documents(folder / name)]


def part(component: str, kind: str, name: str = "") -> dict[str, Any]:
    (found,) = [each for each in parts(component) if each["kind"] == kind and name in {"", each["metadata"]["name"]}]
    return found


def opened(policy: dict[str, Any]) -> tuple[list[Any], set[int]]:
    """To whom and to which ports a policy opens the way of the replicas."""
    assert policy["spec"]["podSelector"]["matchLabels"] == {"app.kubernetes.io/name": NAME}
    assert policy["spec"]["policyTypes"] == ["Egress"]
    (rule,) = policy["spec"]["egress"]
    return rule["to"], {each["port"] for each in rule["ports"]}


def test_there_are_those_that_are_described() -> None:
    assert set(BY_NAME) == {"store", "external-store", "telemetry", "ingress"}
    readme = (ROOT / "deploy" / "README.md").read_text()
    assert [name for name in BY_NAME if f"components/{name}" not in readme] == []


@pytest.mark.parametrize("component", COMPONENTS, ids=lambda path: path.name)
def test_every_file_of_a_component_is_used(component: Path) -> None:
    kustomization = read(component / "kustomization.yaml")
    assert kustomization["kind"] == "Component"
    used = {*kustomization["resources"], *(patch["path"] for patch in kustomization.get("patches", []))}
    assert {path.name for path in component.iterdir()} == used | {"kustomization.yaml"}


def test_without_components_only_names_can_be_asked_for() -> None:
    (rule,) = of_kind("NetworkPolicy")["spec"]["egress"]
    assert {(each["protocol"], each["port"]) for each in rule["ports"]} == {("UDP", 53), ("TCP", 53)}
    addresses = [ip_network(each["ipBlock"]["cidr"]) for each in rule["to"] if "ipBlock" in each]
    assert addresses == [ip_network(NODE_LOCAL_DNS)]
    assert ip_address(NODE_LOCAL_DNS).is_link_local
    namespaces = [each["namespaceSelector"]["matchLabels"] for each in rule["to"] if "namespaceSelector" in each]
    assert namespaces == [{"kubernetes.io/metadata.name": "kube-system"}]


def test_traces_reach_the_collector_that_is_set() -> None:
    (patch,) = read(BY_NAME["telemetry"] / "kustomization.yaml")["patches"]
    settings = read(BY_NAME["telemetry"] / patch["path"])
    assert (settings["kind"], settings["metadata"]["name"]) == ("ConfigMap", of_kind("ConfigMap")["metadata"]["name"])
    assert not_read(set(settings["data"])) == set()
    whom, ports = opened(part("telemetry", "NetworkPolicy"))
    assert ports == {urlsplit(settings["data"]["OTEL_EXPORTER_OTLP_ENDPOINT"]).port}
    assert whom == [{"namespaceSelector": {"matchLabels": {"program-adjustment-service/collects": "yes"}}}]


def test_an_external_store_can_be_reached() -> None:
    whom, ports = opened(part("external-store", "NetworkPolicy"))
    assert ports == {6379, 6380}
    (block,) = whom
    assert ip_network(block["ipBlock"]["cidr"]) == ip_network("192.0.2.0/24"), "RFC 5737: to be replaced"


def test_the_store_hears_the_replicas_alone() -> None:
    labels = {"app.kubernetes.io/name": STORE}
    pod = part("store", "Deployment")["spec"]["template"]
    (container,) = pod["spec"]["containers"]
    (port,) = container["ports"]
    assert pod["metadata"]["labels"] == part("store", "Service")["spec"]["selector"] == labels
    own = part("store", "NetworkPolicy", STORE)["spec"]
    assert (own["podSelector"]["matchLabels"], own["egress"]) == (labels, [])
    (rule,) = own["ingress"]
    assert rule["from"] == [{"podSelector": {"matchLabels": {"app.kubernetes.io/name": NAME}}}]
    assert rule["ports"] == [{"protocol": "TCP", "port": port["name"]}]
    whom, ports = opened(part("store", "NetworkPolicy", f"{NAME}-to-store"))
    assert (whom, ports) == ([{"podSelector": {"matchLabels": labels}}], {port["containerPort"]})


def test_the_store_keeps_nothing_and_has_no_rights() -> None:
    pod = part("store", "Deployment")["spec"]["template"]["spec"]
    (container,) = pod["containers"]
    command = container["command"]
    in_compose = read(COMPOSE)["services"]["valkey"]["command"]
    assert [word for word in in_compose if word not in command] == []
    assert command[command.index("--save") + 1] == ""
    assert command[command.index("--appendonly") + 1] == "no"
    assert pod["securityContext"]["runAsNonRoot"] is True
    assert pod["securityContext"]["seccompProfile"] == {"type": "RuntimeDefault"}
    assert pod["automountServiceAccountToken"] is False
    assert container["securityContext"] == {
        "allowPrivilegeEscalation": False,
        "readOnlyRootFilesystem": True,
        "capabilities": {"drop": ["ALL"]},
    }
    mounts = {mount["mountPath"]: mount["name"] for mount in container["volumeMounts"]}
    volumes = {volume["name"]: set(volume) - {"name"} for volume in pod["volumes"]}
    assert {place: volumes[name] for place, name in mounts.items()} == {"/run/users": {"secret"}, "/data": {"emptyDir"}}
    assert command[command.index("--aclfile") + 1] == "/run/users/users.acl"


def test_the_world_comes_in_by_tls_and_no_request_is_repeated() -> None:
    ingress = part("ingress", "Ingress")
    (tls,) = ingress["spec"]["tls"]
    (rule,) = ingress["spec"]["rules"]
    assert (tls["hosts"], bool(tls["secretName"])) == ([rule["host"]], True)
    (path,) = rule["http"]["paths"]
    service = of_kind("Service")
    assert path["backend"]["service"]["name"] == service["metadata"]["name"]
    assert path["backend"]["service"]["port"]["name"] in {port["name"] for port in service["spec"]["ports"]}
    told = {name.rpartition("/")[2]: value for name, value in ingress["metadata"]["annotations"].items()}
    assert told["proxy-next-upstream"] == "off"
    assert told["proxy-body-size"] == f"{Settings().max_bulk_body // 2**20}m"
    assert int(told["proxy-read-timeout"]) > Settings().request_seconds
    assert {"limit-rps", "limit-connections"} <= set(told)
