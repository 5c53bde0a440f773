# The image of the service. BASE is any image with Python >= 3.11 and its venv module; both stages use the same one.
#   docker build --build-arg BASE=python:3.11-slim-bookworm --tag program-adjustment-service .
#   docker run --publish 127.0.0.1:8000:8000 --read-only program-adjustment-service
ARG BASE=python:3.11-slim-bookworm

FROM ${BASE} AS build
WORKDIR /build
COPY deploy/requirements.lock ./
# pip leaves the environment again once it has done its work: the service never installs anything.
RUN python3 -m venv /opt/service/environment \
    && /opt/service/environment/bin/python -m pip install --quiet --disable-pip-version-check --no-cache-dir \
        --no-deps --only-binary :all: --require-hashes --requirement requirements.lock \
    && /opt/service/environment/bin/python -m pip --disable-pip-version-check uninstall --quiet --yes pip setuptools
COPY service /opt/service/service
# Compiled here, since the running image cannot write; by content, so that file times do not matter.
RUN /opt/service/environment/bin/python -m compileall -q --invalidation-mode unchecked-hash /opt/service/service

FROM ${BASE}
COPY --from=build /opt/service /opt/service
WORKDIR /opt/service
ENV PATH=/opt/service/environment/bin:$PATH \
    PYTHONDONTWRITEBYTECODE=1 \
    PYTHONUNBUFFERED=1 \
    HOST=0.0.0.0 \
    PORT=8000
# A number, so that an orchestrator can see that it is not root; it owns no file and needs no entry in /etc/passwd.
USER 10001:10001
EXPOSE 8000
STOPSIGNAL SIGTERM
HEALTHCHECK --interval=30s --timeout=3s --start-period=5s --retries=3 \
    CMD ["python", "-c", "import os, urllib.request; urllib.request.urlopen(f\"http://127.0.0.1:{os.environ['PORT']}/readyz\", timeout=2)"]
CMD ["python", "-m", "service", "serve"]
