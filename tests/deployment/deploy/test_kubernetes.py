"""The manifests fit Kubernetes, each other, the image and the service."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any, Final

import kubernetes_validate
import pytest

from service import __version__
from service.app import create_app
from service.settings import Settings
from tests.support.manifests import (
    COMPONENTS,
    FILES,
    KUBERNETES,
    NAME,
    documents,
    graceful_shutdown,
    image_user,
    not_read,
    of_kind,
    read,
)

OLDEST: Final = "1.27"
"""The first whose disruption budgets let pods be evicted that are not healthy."""
NOTICED: Final = 5
"""In which proxies hear that a replica ends [s]: design choice."""
MARGIN: Final = 5
"""Between the last that a replica may do and its being killed [s]: design choice."""


@pytest.fixture(scope="module")
def pod() -> dict[str, Any]:
    found: dict[str, Any] = of_kind("Deployment")["spec"]["template"]
    return found


@pytest.fixture(scope="module")
def container(pod: dict[str, Any]) -> dict[str, Any]:
    (found,) = pod["spec"]["containers"]
    assert isinstance(found, dict)
    return found


def resources_of(component: Path) -> list[Path]:
    return [component / name for name in read(component / "kustomization.yaml")["resources"]]


MANIFESTS: Final = [
    pytest.param(document, id=f"{file.parent.name}/{document['kind']} {document['metadata']['name']}")
    for file in [*FILES, *(file for component in COMPONENTS for file in resources_of(component))]
    for document in documents(file)
]


@pytest.mark.parametrize("version", [OLDEST, kubernetes_validate.latest_version()])
@pytest.mark.parametrize("document", MANIFESTS)
def test_a_manifest_is_valid(document: dict[str, Any], version: str) -> None:
    kubernetes_validate.validate(document, version, strict=True)


@pytest.mark.parametrize("document", MANIFESTS)
def test_a_misspelt_field_would_be_found(document: dict[str, Any]) -> None:
    wrong = copy.deepcopy(document)
    wrong["metadata"]["lables"] = {}
    with pytest.raises(kubernetes_validate.ValidationError):
        kubernetes_validate.validate(wrong, OLDEST, strict=True)


def test_every_manifest_is_applied() -> None:
    listed = read(KUBERNETES / "kustomization.yaml")["resources"]
    assert sorted(listed) == [path.name for path in FILES]
    assert {read(path)["kind"] for path in FILES} == {
        *("ConfigMap", "Deployment", "Service"),
        *("HorizontalPodAutoscaler", "PodDisruptionBudget", "NetworkPolicy"),
    }


def test_the_version_is_the_service_s(container: dict[str, Any]) -> None:
    (image,) = read(KUBERNETES / "kustomization.yaml")["images"]
    assert image["name"] == container["image"]
    assert image["newTag"] == __version__


def test_every_manifest_means_the_same_pods(pod: dict[str, Any]) -> None:
    labels = pod["metadata"]["labels"]
    selectors = [
        of_kind("Deployment")["spec"]["selector"]["matchLabels"],
        of_kind("Service")["spec"]["selector"],
        of_kind("PodDisruptionBudget")["spec"]["selector"]["matchLabels"],
        of_kind("NetworkPolicy")["spec"]["podSelector"]["matchLabels"],
        *(spread["labelSelector"]["matchLabels"] for spread in pod["spec"]["topologySpreadConstraints"]),
    ]
    assert [selector for selector in selectors if selector != labels] == []
    target = of_kind("HorizontalPodAutoscaler")["spec"]["scaleTargetRef"]
    assert (target["kind"], target["name"]) == ("Deployment", NAME)
    assert "replicas" not in of_kind("Deployment")["spec"], "each apply would undo what the autoscaler did"


def test_a_replica_has_no_rights(pod: dict[str, Any], container: dict[str, Any]) -> None:
    assert pod["spec"]["securityContext"]["runAsNonRoot"] is True
    assert pod["spec"]["securityContext"]["runAsUser"] == image_user()
    assert pod["spec"]["securityContext"]["seccompProfile"] == {"type": "RuntimeDefault"}
    assert pod["spec"]["automountServiceAccountToken"] is False
    assert container["securityContext"] == {
        "allowPrivilegeEscalation": False,
        "readOnlyRootFilesystem": True,
        "capabilities": {"drop": ["ALL"]},
    }


def test_a_replica_has_time_to_finish(pod: dict[str, Any]) -> None:
    before = float(of_kind("ConfigMap")["data"]["DRAIN_SECONDS"])
    assert before >= NOTICED
    assert pod["spec"]["terminationGracePeriodSeconds"] >= before + graceful_shutdown() + MARGIN


@pytest.mark.parametrize("probe", ["startupProbe", "readinessProbe", "livenessProbe"])
def test_a_probe_asks_for_what_there_is(container: dict[str, Any], probe: str) -> None:
    asked = container[probe]["httpGet"]
    assert asked["path"] in {route.path for route in create_app(Settings()).routes}
    assert asked["port"] in {port["name"] for port in container["ports"]}


def test_the_ports_are_the_same_everywhere(container: dict[str, Any]) -> None:
    ports = {port["name"]: str(port["containerPort"]) for port in container["ports"]}
    settings = of_kind("ConfigMap")["data"]
    assert ports == {"http": settings["PORT"], "metrics": settings["METRICS_PORT"]}
    assert [each["targetPort"] for each in of_kind("Service")["spec"]["ports"]] == ["http"]
    opened = [each["port"] for rule in of_kind("NetworkPolicy")["spec"]["ingress"] for each in rule["ports"]]
    assert opened == ["http", "metrics"]


def test_every_setting_is_one_of_the_service(container: dict[str, Any]) -> None:
    settings = {*of_kind("ConfigMap")["data"], *(variable["name"] for variable in container["env"])}
    assert not_read(settings) == set()


def test_keys_come_from_a_secret_into_a_file(pod: dict[str, Any], container: dict[str, Any]) -> None:
    (volume,) = pod["spec"]["volumes"]
    (mount,) = container["volumeMounts"]
    (item,) = volume["secret"]["items"]
    assert (mount["name"], mount["readOnly"]) == (volume["name"], True)
    assert "subPath" not in mount, "a single file would not change when the Secret does"
    assert of_kind("ConfigMap")["data"]["API_KEYS_FILE"] == f"{mount['mountPath']}/{item['path']}"


def test_replicas_are_never_all_away_at_once() -> None:
    assert of_kind("HorizontalPodAutoscaler")["spec"]["minReplicas"] >= 2
    assert of_kind("PodDisruptionBudget")["spec"]["maxUnavailable"] == 1
    assert of_kind("Deployment")["spec"]["strategy"]["rollingUpdate"]["maxUnavailable"] == 0
