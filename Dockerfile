# The image of the service. BASE is any image with Python >= 3.11 and its venv module; both stages use the same one, and
# whoever needs the very same image again names it by its digest, which this file cannot know for every registry.
#   docker build --build-arg BASE=python:3.11-slim-bookworm@sha256:… --tag program-adjustment-service:0.9.0 .
#   docker run --publish 127.0.0.1:8000:8000 --read-only --cap-drop ALL program-adjustment-service:0.9.0
# Where packages come from an index of one's own: --secret id=pip.conf,src=FILE gives pip its settings for the build and
# leaves none in the image.
ARG BASE=python:3.11-slim-bookworm

FROM ${BASE} AS build
WORKDIR /build
COPY deploy/requirements.lock ./
# Once it has done its work pip leaves the environment again, with what the framework only invents test data with or
# paints its own command line with: two fifths of all bytes, and code that is not there needs no mending.
RUN --mount=type=secret,id=pip.conf,target=/etc/pip.conf \
    python3 -m venv /opt/service/environment \
    && /opt/service/environment/bin/python -m pip install --quiet --disable-pip-version-check --no-cache-dir \
        --no-compile --no-deps --only-binary :all: --require-hashes --requirement requirements.lock \
    && /opt/service/environment/bin/python -m pip --disable-pip-version-check uninstall --quiet --yes \
        polyfactory faker tzdata rich-click rich pygments markdown-it-py mdurl setuptools pip
COPY service /opt/service/service
COPY deploy/bill-of-materials.json /opt/service/
# Compiled here, since the running image cannot write; by content, so that file times do not matter.
RUN /opt/service/environment/bin/python -m compileall -q -j 0 --invalidation-mode unchecked-hash \
        /opt/service/environment/lib /opt/service/service

FROM ${BASE}
ARG BASE
ARG REVISION=unknown
LABEL org.opencontainers.image.title="program-adjustment-service" \
      org.opencontainers.image.description="Finds the smallest change to a lifting program that takes demand off a sore region." \
      org.opencontainers.image.version="0.9.0" \
      org.opencontainers.image.revision="${REVISION}" \
      org.opencontainers.image.base.name="${BASE}"
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
HEALTHCHECK --interval=10s --timeout=5s --start-period=10s --retries=3 \
    CMD ["python", "-c", "import os, urllib.request; urllib.request.urlopen(f\"http://127.0.0.1:{os.environ['PORT']}/readyz\", timeout=4)"]
CMD ["python", "-m", "service", "serve"]
