# Shared by sim/demo and tests/run: installs what is missing and builds. Sourced after `cd` to the top of the checkout.

say() { printf '%s\n' "$*" >&2; }

listed_packages() { sed -e 's/#.*//' -e '/^[[:space:]]*$/d' -e 's/[[:space:]]//g' .packages; }

missing_packages() {
  local package
  for package in $(listed_packages); do
    [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || echo "$package"
  done
}

# Installs by name what is not there; where that is not possible, says what is needed and lets the build try.
install_missing() {
  if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
    say "No apt here. These Debian packages, or what stands for them, are needed:" $(listed_packages)
    return 0
  fi
  local missing as_root=()
  mapfile -t missing < <(missing_packages)
  [ ${#missing[@]} -gt 0 ] || return 0
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      say "Missing, and installing needs root: apt-get install --no-install-recommends ${missing[*]}"
      return 0
    fi
    as_root=(sudo)
  fi
  say "Installing: ${missing[*]}"
  "${as_root[@]}" apt-get -qq update >&2 || say "The package lists could not be refreshed; trying with those at hand."
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -qq -y --no-install-recommends install "${missing[@]}" >&2
}

# build_targets [TARGET...]: everything when none is named.
build_targets() {
  # A compiler cache without a place to write to would stop the build.
  [ -w "${HOME:-/nonexistent}" ] || export CCACHE_DISABLE=1
  # A checkout that was moved has a build folder that points to the old place.
  if [ -f build/CMakeCache.txt ] && ! grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$PWD" build/CMakeCache.txt; then
    say "The build folder belongs to another checkout; starting it anew."
    rm -rf build
  fi
  if [ ! -f build/build.ninja ]; then
    cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release >&2
  fi
  cmake --build build ${1:+--target "$@"} >&2
}
