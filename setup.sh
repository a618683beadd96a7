# Sourced by ./start and ./check: makes a fresh clone ready. Installs only what is missing.

need_node() {
  if ! command -v node >/dev/null || [ "$(node -p 'Number(process.versions.node.split(".")[0])')" -lt 20 ]; then
    echo "Levare needs Node 20 or newer with npm; this machine has $(node --version 2>/dev/null || echo none)." >&2
    exit 1
  fi
}

# The packages of package-lock.json, and the program built from them: $built says whether it was. npm must not fetch browsers.
built=no
need_packages() {
  export PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD=1
  # npm writes this file when it has installed; it is older where the lock file changed since.
  if [ ! node_modules/.package-lock.json -nt package-lock.json ]; then
    echo "Setting up Levare: this fetches what it needs and takes a few minutes, this once." >&2
    npm ci --no-audit --no-fund
    built=yes
  fi
}

# Debian packages given as "command:package". Without apt or the right to use it, says what to install and goes on:
# the checks that need it then say that they are skipped.
need_debian() {
  local missing=()
  for pair in "$@"; do
    command -v "${pair%%:*}" >/dev/null || missing+=("${pair##*:}")
  done
  [ ${#missing[@]} -gt 0 ] || return 0
  local sudo=""
  [ "$(id -u)" = 0 ] || sudo="sudo -n"
  if command -v apt-get >/dev/null && $sudo true 2>/dev/null; then
    $sudo apt-get update -q >/dev/null && DEBIAN_FRONTEND=noninteractive $sudo apt-get install -y -q "${missing[@]}" >/dev/null
  else
    echo "Some checks need Debian's packages: ${missing[*]}. Install them to run those checks." >&2
  fi
}
