# shellcheck shell=sh
# Read by deploy/serve, deploy/lock and tests/run: finds a Python and makes a virtual environment that holds what a lock
# file lists. Needs sh and Python alone, never root.

say() {
    printf '%s\n' "$*" >&2
}

is_recent_python() {
    "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1
}

# Prints the Python to make environments with: the variable PYTHON if it is set, else the first recent one on the PATH.
find_python() {
    if [ -n "${PYTHON:-}" ]; then
        if is_recent_python "$PYTHON"; then
            printf '%s\n' "$PYTHON"
            return 0
        fi
        say "PYTHON=$PYTHON is no Python 3.11 or newer."
        return 1
    fi
    for candidate in python3 python3.13 python3.12 python3.11 python; do
        if is_recent_python "$candidate"; then
            printf '%s\n' "$candidate"
            return 0
        fi
    done
    say "No Python 3.11 or newer found on the PATH. Install one, or name it: PYTHON=/path/to/python3.11 $0"
    return 1
}

python_version() {
    "$1" -c 'import sys; print("%d.%d" % sys.version_info[:2])'
}

# environment_serves VENV: it has a recent Python with pip, and the Python that the caller asked for, if any.
environment_serves() {
    "$1/bin/python" -c 'import sys, pip; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1 || return 1
    [ -z "${PYTHON:-}" ] || [ "$(python_version "$1/bin/python")" = "$(python_version "$PYTHON")" ]
}

# make_environment VENV: an empty one, in place of whatever was there.
make_environment() {
    interpreter=$(find_python) || return 1
    if ! "$interpreter" -c 'import ensurepip, venv' >/dev/null 2>&1; then
        say "$interpreter cannot make virtual environments: its venv module is incomplete. On Debian and Ubuntu this mends it:"
        say "    apt-get install python$(python_version "$interpreter")-venv"
        return 1
    fi
    say "Making the environment $1 with $interpreter ($(python_version "$interpreter"))"
    "$interpreter" -m venv --clear "$1"
}

# prepare_environment VENV LOCK: installs only when the lock has changed since the last time that it succeeded.
prepare_environment() {
    [ -z "${PYTHON:-}" ] || find_python >/dev/null || return 1
    stamp=$1/installed-lock
    checksum=$(cksum <"$2") || return 1
    if environment_serves "$1"; then
        [ "$(cat "$stamp" 2>/dev/null)" != "$checksum" ] || return 0
    else
        make_environment "$1" || return 1
    fi
    say "Installing $2"
    rm -f "$stamp"
    # The lock is complete and hashed, so nothing is resolved; wheels only, since a build would fetch unpinned tools.
    "$1/bin/python" -m pip install -qq --disable-pip-version-check --no-input --no-deps --only-binary :all: \
        --require-hashes --requirement "$2" >&2 || {
        say "Could not install $2: the reason stands above."
        return 1
    }
    printf '%s\n' "$checksum" >"$stamp"
}
