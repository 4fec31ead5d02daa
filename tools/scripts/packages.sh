# Sourced by tools/demo, tools/check and tools/deep: what they need from the Debian registry.
# shellcheck shell=bash disable=SC2034
build_packages=(g++ cmake ninja-build libboost-dev libyaml-cpp-dev libfmt-dev libcli11-dev nlohmann-json3-dev
  libosmium2-dev zlib1g-dev libbz2-dev libexpat1-dev libgdal-dev)
test_packages=("${build_packages[@]}" ccache doctest-dev libbenchmark-dev
  clang-14 libclang-rt-14-dev llvm-14 clang-format-14 clang-tidy-14)
command -v npm >/dev/null || test_packages+=(nodejs npm)  # of the schema check

# Installs those of the named packages that are missing; as root or through sudo.
install_missing() {
  local missing=() package as_root=()
  if ! command -v apt-get >/dev/null; then
    echo "no apt-get here: taking these Debian 12 packages for installed: $*"
    return
  fi
  for package in "$@"; do
    [ "$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || missing+=("$package")
  done
  [ ${#missing[@]} -gt 0 ] || return 0
  if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || { echo "as root, please: apt-get install ${missing[*]}" >&2; return 1; }
    as_root=(sudo)
  fi
  echo "installing ${missing[*]}"
  "${as_root[@]}" apt-get -qq update
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -qq -o DPkg::Lock::Timeout=300 -o Dpkg::Use-Pty=0 \
    install --no-install-recommends "${missing[@]}" >/dev/null
}
