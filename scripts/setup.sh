# shellcheck shell=bash
# Sourced by start and test. Sets the program up once; takes almost no time after that.
# Needs Python 3.11 or newer. On Debian and Ubuntu, root installs the rest with apt; other users see the command.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
venv=${TARE_AND_TAG_VENV:-$root/.venv}

# System libraries the program needs: the file the linker finds, and its package. Tested by scripts/bare-root.
qt_libraries="libglib-2.0.so.0=libglib2.0-0 libGL.so.1=libgl1 libEGL.so.1=libegl1 libxkbcommon.so.0=libxkbcommon0
  libfontconfig.so.1=libfontconfig1 libdbus-1.so.3=libdbus-1-3 libcups.so.2=libcups2"
window_libraries="libxcb-cursor.so.0=libxcb-cursor0 libxcb-icccm.so.4=libxcb-icccm4 libxcb-keysyms.so.1=libxcb-keysyms1
  libxkbcommon-x11.so.0=libxkbcommon-x11-0 libxcb-shape.so.0=libxcb-shape0"

say() { printf '%s\n' "$*" >&2; }

has_display() { [[ -n ${DISPLAY:-}${WAYLAND_DISPLAY:-} ]]; }

# Print the packages of the given FILE=PACKAGE pairs whose file the linker does not find.
missing_libraries() {
  local known pair
  known=$(PATH=$PATH:/sbin:/usr/sbin ldconfig -p 2>/dev/null) || return 0
  for pair in "$@"; do
    [[ $known == *"${pair%%=*} "* ]] || printf '%s\n' "${pair#*=}"
  done
}

# Print the packages needed to make the environment, if it must be made.
missing_for_environment() {
  if is_made; then return; fi
  python3 -c 'import ensurepip' 2>/dev/null || echo python3-venv
  [[ ! -d /etc/apt || -e /etc/ssl/certs/ca-certificates.crt ]] || echo ca-certificates
}

# Newer Debian and Ubuntu renamed some libraries when times became 64 bits wide.
newest_name() {
  if apt-cache show "$1t64" >/dev/null 2>&1; then echo "$1t64"; else echo "$1"; fi
}

# Install packages as root. For other users, print the command and exit with 3.
need_packages() {
  (($#)) || return 0
  if [[ $EUID != 0 ]] || ! command -v apt-get >/dev/null; then
    say "Missing on this system. Run once as root:  apt-get install --no-install-recommends $*"
    exit 3
  fi
  say "Installing $*"
  local quiet=(-qq -o DPkg::Lock::Timeout=120) names=() name
  apt-get "${quiet[@]}" update >&2
  for name in "$@"; do names+=("$(newest_name "$name")"); done
  DEBIAN_FRONTEND=noninteractive apt-get "${quiet[@]}" install -y --no-install-recommends "${names[@]}" >&2
}

# Print a hash of what the environment is made from: the pinned packages, the project's settings and folder, and the
# real interpreter by version and prefix, so that another path to the same Python makes no difference.
recipe() {
  local python='import sys; print(sys.version, sys.base_prefix)'
  { cat "$root/requirements.lock" "$root/pyproject.toml" && python3 -c "$python" && echo "$root"; } | sha256sum
}

is_made() { [[ -e $venv/stamp && $(<"$venv/stamp") == "$(recipe)" ]]; }

# Make the environment, one start at a time. The lock is on requirements.lock itself and ends with its process.
make_environment() {
  if is_made; then return; fi
  if command -v flock >/dev/null; then
    exec 9<"$root/requirements.lock"
    if ! flock -n 9; then
      say "Another start is setting this up; waiting for it."
      flock 9
    fi
  fi
  if ! is_made; then fill_environment; fi # else another start has made it
  exec 9<&-
}

fill_environment() {
  say "Setting up in $venv (once; a minute or two)"
  local version='import sys; print(sys.version_info[:2])' fresh=()
  if [[ -e $venv/pyvenv.cfg && $("$venv/bin/python" -c "$version" 2>&1) != "$(python3 -c "$version")" ]]; then
    fresh=(--clear) # made with another Python; a folder that is not an environment is never cleared
  fi
  python3 -m venv "${fresh[@]}" "$venv"
  local pip=("$venv/bin/python" -m pip --disable-pip-version-check -qq)
  "${pip[@]}" install --only-binary :all: --require-hashes -r "$root/requirements.lock" >&2
  "${pip[@]}" install --no-deps --no-build-isolation --no-index -e "$root" >&2
  recipe >"$venv/stamp"
}

check_python() {
  if python3 -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then return; fi
  say "This needs Python 3.11 or newer as python3."
  exit 3
}

# Set up everything the program needs. The arguments are missing system packages.
set_up() {
  if ! is_made; then check_python; fi
  # shellcheck disable=SC2046 # lists of words
  need_packages $(missing_for_environment) "$@"
  make_environment
}
