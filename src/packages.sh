# shellcheck shell=bash disable=SC2034,SC2154
# What Landfall needs from the system, and how to get it. Read by src/start, tests/check and .ci/run,
# which set `me`, the name in messages, and `root`, the top folder.
#
# A need is one line: how to see that it is there, then the package that brings it.
#   cmd:NAME   a command          pc:NAME     a pkg-config module
#   inc:FILE   a C++ header       py:NAME     a Python 3 module
#   lib:NAME   a static library of the clang in use
#   sf:        a General MIDI sound font
# "a|b" takes the first that the distribution has; "-" means that it is not needed or not to be had.

program_needs='
probe             debian                 fedora             arch            homebrew        msys2
cmd:c++           g++                    gcc-c++            gcc             gcc             gcc
cmd:cmake         cmake                  cmake              cmake           cmake           cmake
cmd:ninja         ninja-build            ninja-build        ninja           ninja           ninja
cmd:pkg-config    pkg-config             pkgconf-pkg-config pkgconf         pkgconf         pkgconf
pc:jack           libjack-jackd2-dev     -                  -               -               -
pc:sdl2           libsdl2-dev            SDL2-devel         sdl2            sdl2            SDL2
pc:SDL2_ttf       libsdl2-ttf-dev        SDL2_ttf-devel     sdl2_ttf        sdl2_ttf        SDL2_ttf
pc:rtmidi         librtmidi-dev          rtmidi-devel       rtmidi          rtmidi          rtmidi
pc:CLI11          libcli11-dev           cli11-devel        cli11           cli11           cli11
pc:nlohmann_json  nlohmann-json3-dev     json-devel         nlohmann-json   nlohmann-json   nlohmann-json
pc:fluidsynth     libfluidsynth-dev      fluidsynth-devel   fluidsynth      fluid-synth     fluidsynth
pc:libpng         libpng-dev             libpng-devel       libpng          libpng          libpng
pc:sqlite3        libsqlite3-dev         sqlite-devel       sqlite          sqlite          sqlite3
pc:pugixml        libpugixml-dev         pugixml-devel      pugixml         pugixml         pugixml
pc:cairo-ft       libcairo2-dev          cairo-devel        cairo           cairo           cairo
pc:libzip         libzip-dev             libzip-devel       libzip          libzip          libzip
sf:               timgm6mb-soundfont     fluid-soundfont-gm soundfont-fluid -               -
'
# Debian's RtMidi takes either of two JACK libraries, and only jackd2's can stay when jackd2 comes.
# The program is built without these, and then lacks the built-in synth, the pictures, the history, MusicXML, sheets or
# packs as zip files.
optional_needs='pc:fluidsynth pc:libpng pc:sqlite3 pc:pugixml pc:cairo-ft pc:libzip sf:'

test_needs='
probe             debian                 fedora             arch            homebrew        msys2
cmd:git           git                    git                git             git             -
cmd:python3       python3                python3            python          python          python
inc:doctest/doctest.h doctest-dev        doctest-devel      doctest         doctest         doctest
pc:jack           libjack-jackd2-dev     pipewire-jack-audio-connection-kit-devel jack2 jack -
cmd:jackd         jackd2                 jack-audio-connection-kit jack2    jack            -
cmd:jack_rec      jack-example-tools|jackd2 jack-audio-connection-kit-example-clients jack-example-tools - -
cmd:jack_midi_clock jack-midi-clock        -                  -               -               -
cmd:Xvfb          xvfb                   xorg-x11-server-Xvfb xorg-server-xvfb -            -
cmd:xdotool       xdotool                xdotool            xdotool         xdotool         -
cmd:sox           sox                    sox                sox             sox             sox
py:rtmidi         python3-rtmidi         python3-rtmidi     python-rtmidi   -               -
py:mido           python3-mido           python3-mido       python-mido     -               -
cmd:midi2ly       lilypond               lilypond           lilypond        lilypond        -
cmd:pdftotext     poppler-utils          poppler-utils      poppler         poppler         -
cmd:mandoc        mandoc                 mandoc             mandoc          mandoc          -
cmd:zsh           zsh                    zsh                zsh             zsh             -
cmd:fish          fish                   fish               fish            fish            -
cmd:desktop-file-validate desktop-file-utils desktop-file-utils desktop-file-utils desktop-file-utils -
cmd:appstreamcli  appstream              appstream          appstream       -               -
'

package_needs='
probe             debian                 fedora             arch            homebrew        msys2
cmd:debootstrap   debootstrap            -                  -               -               -
cmd:dpkg-shlibdeps dpkg-dev              -                  -               -               -
'

ci_needs='
probe             debian                 fedora             arch            homebrew        msys2
cmd:ccache        ccache                 ccache             ccache          ccache          ccache
cmd:clang-14      clang-14               -                  -               -               -
lib:fuzzer        libclang-rt-14-dev     -                  -               -               -
cmd:clang-format-14 clang-format-14      -                  -               -               -
cmd:clang-tidy-14 clang-tidy-14          -                  -               -               -
'

# The system's own Python is the one that the system's packages serve.
python=/usr/bin/python3
[ -x "$python" ] || python=python3

say() { printf '%s: %s\n' "$me" "$*" >&2; }
fail() {
  say "$*"
  exit 1
}

is_there() { # PROBE
  local what=${1#*:}
  case $1 in
  cmd:c++) command -v c++ >/dev/null || command -v "${CXX:-g++}" >/dev/null || command -v clang++ >/dev/null ;;
  cmd:*) command -v "$what" >/dev/null ;;
  pc:*) pkg-config --exists "$what" 2>/dev/null ;;
  inc:*) echo "#include <$what>" | "${CXX:-c++}" -E -x c++ - >/dev/null 2>&1 ;;
  py:*) "$python" -c "import importlib.util, sys
sys.exit(importlib.util.find_spec('$what') is None)" 2>/dev/null ;;
  lib:*) [ -e "$(clang-14 --print-file-name="libclang_rt.$what-$(uname -m).a" 2>/dev/null)" ] ;;
  sf:) compgen -G '/usr/share/sound*/sf*/*.sf[23]' >/dev/null || compgen -G '/usr/share/soundfonts/*.sf[23]' >/dev/null ;;
  *) fail "no such kind of need: $1" ;;
  esac
}

# The column of the tables that serves this system; none if it is not known.
package_column() {
  if command -v apt-get >/dev/null; then
    echo 2
  elif command -v dnf >/dev/null; then
    echo 3
  elif [ -n "${MSYSTEM-}" ]; then
    echo 6
  elif command -v pacman >/dev/null; then
    echo 4
  elif command -v brew >/dev/null; then
    echo 5
  fi
}
column=$(package_column)

missing() { # NEEDS: the lines of those that are not there
  local probe rest
  awk -v column="${column:-2}" 'NF > 1 && $1 != "probe" && $column != "-"' <<<"$1" |
    while read -r probe rest; do
      is_there "$probe" || echo "$probe $rest"
    done
}

names() { # COLUMN LINES: the packages on one line, "a|b" untouched
  awk -v column="$1" '$column != "-" && !seen[$column]++ { printf "%s%s", space, $column; space = " " }' <<<"$2"
}

# Whether apt may be run; says what to run by hand if not.
become_root() { # NAME...
  [ "$(id -u)" = 0 ] && return
  if ! command -v sudo >/dev/null; then
    say "not root, and no sudo here; as root, run: apt-get install $*"
  elif [ ! -t 0 ]; then
    sudo -n true 2>/dev/null && return
    say "sudo wants a password and there is no terminal; run: sudo apt-get install $*"
  else
    say "asking sudo to run apt-get for these packages"
    sudo -v && return
    say "sudo said no; run: sudo apt-get install $*"
  fi
  return 1
}

as_root() {
  if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi
}

apt_install() { # NAME...: "a|b" is settled here, once the lists are fresh
  local name choice chosen=()
  local apt=(env DEBIAN_FRONTEND=noninteractive apt-get -q -o DPkg::Lock::Timeout=300 -o Dpkg::Use-Pty=0)
  become_root "$@" || return
  as_root "${apt[@]}" update >&2 || say "the package lists could not be refreshed; going on with the old ones"
  for name in "$@"; do
    for choice in ${name//|/ }; do
      apt-cache show "$choice" >/dev/null 2>&1 && break
    done
    chosen+=("$choice")
  done
  as_root "${apt[@]}" install -y --no-install-recommends "${chosen[@]}" </dev/null >&2
}

# Names what to install on systems whose package manager is left to the player.
advise() { # LINES
  say "not found here: $(names 1 "$1" | sed 's/[a-z]*://g')"
  advise_one 3 "  Fedora:  sudo dnf install $(names 3 "$1")"
  advise_one 4 "  Arch:    sudo pacman -S --needed $(names 4 "$1")"
  advise_one 5 "  macOS:   brew install $(names 5 "$1")"
  advise_one 6 "  Windows: in an MSYS2 UCRT64 shell, pacboy -S $(names 6 "$1" | sed 's/[^ ][^ ]*/&:p/g')"
}

advise_one() { # COLUMN TEXT: on that system, or on one that is not known
  if [ -z "$column" ] || [ "$column" = "$1" ]; then say "$2"; fi
}

# Brings what is missing where apt is the package manager, and names it elsewhere. Fails only when
# something is still missing that cannot be done without.
provide() { # NEEDS [OPTIONAL_PROBES]
  local round lines left probe rest
  # A second round brings back what had to make room for the first.
  for round in 1 2; do
    lines=$(missing "$1")
    [ -n "$lines" ] || return 0
    [ "$column" = 2 ] || break
    say "these packages are missing and will be installed with apt: $(names 2 "$lines")"
    # shellcheck disable=SC2046
    apt_install $(names 2 "$lines") || break
    hash -r
  done
  lines=$(missing "$1")
  [ -z "$lines" ] || [ "$column" = 2 ] || advise "$lines"
  left=$(while read -r probe rest; do
    case " ${2-} " in *" $probe "*) ;; *) echo "$probe $rest" ;; esac
  done <<<"$lines")
  [ -z "${left// /}" ] || fail "still missing: $(names "${column:-2}" "$left")"
  [ -z "$lines" ] || say "going on without: $(names "${column:-2}" "$lines")"
}

# configure FOLDER [CMAKE_OPTION...]: once; the build notices later changes itself. A folder that
# belongs to a tree which has been moved is set up afresh.
configure() {
  local folder=$1 options=()
  shift
  if [ -e "$folder/build.ninja" ] || [ -e "$folder/Makefile" ]; then
    grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$root" "$folder/CMakeCache.txt" && return 0
  fi
  rm -rf "$folder/CMakeCache.txt" "$folder/CMakeFiles"
  if command -v ninja >/dev/null; then options+=(-G Ninja); fi
  if command -v ccache >/dev/null; then options+=(-DCMAKE_CXX_COMPILER_LAUNCHER=ccache); fi
  cmake -S "$root" -B "$folder" ${options[@]+"${options[@]}"} "$@" >&2 ||
    fail "CMake could not set up ${folder##*/}; the lines above say why"
}

up_to_date() { # FOLDER TARGET
  [ -e "$1/build.ninja" ] && ninja -C "$1" -n "$2" 2>/dev/null | grep -q 'no work to do'
}

compile() { # FOLDER TARGET...
  local folder=$1
  shift
  cmake --build "$folder" --parallel "${JOBS:-$(getconf _NPROCESSORS_ONLN)}" --target "$@" >&2 ||
    fail "the build stopped; the lines above say why"
}
