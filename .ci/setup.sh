# Shared by start and check: Debian packages, and a virtual environment with pinned versions.
# Asks no question. FIELDAPP_VENV puts the environment elsewhere than in the clone's .venv.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
venv=$(realpath -m "${FIELDAPP_VENV:-$root/.venv}")
pins=(assets/android/constraints.txt .ci/constraints.txt)
cd "$root"

say() { printf -- '-- %s\n' "$*" >&2; }

# debian_packages NAME...: installs what is missing; where that is not allowed, names the line, fails.
debian_packages() {
  local name missing=() as_root=()
  if ! command -v dpkg-query >/dev/null; then
    say "not Debian; what is needed here is known there as: $*"
    return
  fi
  for name in "$@"; do
    dpkg-query -W -f '${db:Status-Status}\n' "$name" 2>/dev/null | grep -q '^installed' ||
      missing+=("$name")
  done
  [[ ${#missing[@]} -gt 0 ]] || return 0
  if [[ $(id -u) -ne 0 ]]; then
    if ! sudo -n true 2>/dev/null; then
      say "Debian packages are missing. Install them with this line, then start again:"
      say "sudo apt-get update && sudo apt-get install --no-install-recommends ${missing[*]}"
      return 1
    fi
    as_root=(sudo -n)
  fi
  say "installing ${missing[*]}"
  "${as_root[@]}" apt-get update -qq </dev/null >/dev/null
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
    apt-get install -qq -o Dpkg::Use-Pty=0 --no-install-recommends "${missing[@]}" </dev/null >/dev/null
}

# environment [EXTRA]: the project at its pinned versions in $venv; made anew when these change.
environment() {
  local began=$SECONDS extra=${1:-} stamp wanted
  stamp=$venv/.stamp-${extra:-run}
  wanted=$({ echo "$root" && cat pyproject.toml "${pins[@]}"; } | sha256sum)
  [[ ! -f $stamp || $(<"$stamp") != "$wanted" ]] || return 0
  say "setting up $venv"
  "$(command -v python3.11 || command -v python3)" -m venv "$venv"
  "$venv/bin/python" -m pip install --quiet --disable-pip-version-check \
    "${pins[@]/#/--constraint=}" --editable ".${extra:+[$extra]}"
  echo "$wanted" >"$stamp"
  say "set up in $((SECONDS - began)) s"
}
