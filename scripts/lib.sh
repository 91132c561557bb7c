# shellcheck shell=bash
# Set-up shared by scripts/run, scripts/test, scripts/record_demo and .ci/run; to be sourced.
#
#   setup run            the program
#   setup run show       the program, and the extra `show` of pyproject.toml
#
# A set-up that is done is marked in .venv with a checksum of all that it depends on, so the
# next start only compares it. Everything is fetched here; nothing is fetched afterwards.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
venv=$root/.venv
export ORT_DISABLE_TELEMETRY=1 # as in the assistant: nothing of ours reports home

# Debian packages, by group. What each is for:
#   libespeak-ng1     the voice (with its data)     libportaudio2   microphone and loudspeaker
#   pulseaudio, pulseaudio-utils, libasound2-plugins  the sound card that tests make up
#   xvfb              the display that tests make up
#   strace            what the program asks of the network, for a test
#   flite             four of the demo operators' voices
#   espeak-ng         four accents for the bench of the ear
declare -A debian=(
    [run]="libespeak-ng1 libportaudio2"
    [show]=""
    [test]="pulseaudio pulseaudio-utils libasound2-plugins flite xvfb strace"
    [record]="flite espeak-ng"
    [bench]=""
    [listen]=""
    [torture]=""
)

tell() { printf 'wheelcall: %s\n' "$*" >&2; }
give_up() { tell "$*"; exit 1; }

# only_help GROUP "$@": whether help is asked for; tells what stands at the top of the script. Ends
# there where GROUP isn't set up, for help must not begin an installation.
only_help() {
    [[ ${2-} == -h || ${2-} == --help ]] || return 1
    awk 'NR > 1 { if (!/^#/) exit; sub(/^# ?/, ""); print }' "$0"
    [[ -f $venv/.wheelcall-$1 ]] || exit 0
    echo
}

# setup GROUP...: everything that these groups need.
setup() {
    trap 'tell "stopped; the next start goes on from here"; exit 130' INT
    # Two set-ups at once would write over each other: the second waits.
    exec 9<"$root/requirements.lock"
    flock 9
    local group python='' packages=() new=()
    for group in "$@"; do
        # shellcheck disable=SC2206  # split into words on purpose
        packages+=(${debian[$group]})
        is_current "$group" || new+=("$group")
    done
    if ((${#new[@]})) && ! has_pip; then
        python=$(find_python) || exit 1
        "$python" -c 'import ensurepip, venv' 2>/dev/null || packages+=(python3-venv)
    fi
    need_debian "${packages[@]}"
    [[ -z $python ]] || make_venv "$python"
    for group in "${new[@]}"; do install_group "$group"; done
    exec 9<&-
    trap - INT
}

# The newest Python here that the lock is made for.
find_python() {
    local name
    for name in ${WHEELCALL_PYTHON:-python3.13 python3.12 python3.11 python3}; do
        if "$name" -c 'import sys; sys.exit(not (3, 11) <= sys.version_info[:2] <= (3, 13))' \
            2>/dev/null; then
            command -v "$name"
            return
        fi
    done
    local found
    found=$(python3 --version 2>/dev/null || echo 'no python3')
    give_up "needs Python 3.11, 3.12 or 3.13, and found $found." \
        "Install one (Debian 12 or newer: apt-get install python3 python3-venv)," \
        "or name it: WHEELCALL_PYTHON=/path/to/python3.11 $0"
}

# need_debian PACKAGE...: install those that are missing, or say how and go on.
need_debian() {
    local missing=() package
    if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
        elsewhere "$@"
        return
    fi
    for package in "$@"; do
        dpkg-query --show --showformat='${db:Status-Status}' "$package" 2>/dev/null |
            grep -qx installed || missing+=("$package")
    done
    ((${#missing[@]})) || return 0
    local as_root=()
    if ((EUID != 0)); then
        if ! sudo -n true 2>/dev/null; then
            tell "Debian packages are missing and this is neither root nor sudo without a password."
            tell "Type this once:   sudo apt-get install ${missing[*]}"
            return
        fi
        as_root=(sudo -n)
    fi
    tell "installing Debian packages: ${missing[*]}"
    if ! { "${as_root[@]}" apt-get -qq update &&
        "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -qq install --yes \
            --no-install-recommends "${missing[@]}"; } </dev/null >/dev/null; then
        tell "that failed (see above). Set-up needs the network once. Going on without;"
        tell "to try again by hand:   apt-get install ${missing[*]}"
    fi
}

# elsewhere PACKAGE...: where there is no apt-get, say what has to be there, by this system's names.
# Names from memory, and none of them tried: whoever knows better corrects them here.
elsewhere() {
    local tool package names=() line=''
    for tool in dnf zypper pacman apk; do
        command -v "$tool" >/dev/null && break
        tool=''
    done
    for package in "$@"; do
        case $tool:$package in
            dnf:libportaudio2 | zypper:libportaudio2 | pacman:libportaudio2) names+=(portaudio) ;;
            dnf:libespeak-ng1 | zypper:libespeak-ng1 | pacman:libespeak-ng1) names+=(espeak-ng) ;;
            dnf:python3-venv | zypper:python3-venv | pacman:python3-venv) ;; # in Python itself
            dnf:xvfb) names+=(xorg-x11-server-Xvfb) ;;
            pacman:xvfb) names+=(xorg-server-xvfb) ;;
            dnf:* | zypper:* | pacman:*)
                [[ $package == lib* ]] || names+=("$package") ;; # the tools have one name everywhere
        esac
    done
    case $tool in
        dnf) line="sudo dnf install ${names[*]}" ;;
        zypper) line="sudo zypper install ${names[*]}" ;;
        pacman) line="sudo pacman -S --needed ${names[*]}" ;;
        apk) tell "this system's C library is musl, for which packages are lacking: it can't run here." ;;
    esac
    tell "there is no apt-get here: see to it yourself that what these Debian packages hold is there:"
    tell "    $*"
    [[ -z $line || ${#names[@]} == 0 ]] || tell "Probably (nobody tried it):   $line"
}

# Whether the virtual environment is whole: one that was broken off may have half a pip.
has_pip() { "$venv/bin/python" -m pip --version >/dev/null 2>&1; }

# make_venv PYTHON: the virtual environment, made anew.
make_venv() {
    "$1" -c 'import ensurepip, venv' 2>/dev/null || give_up "$1 can't make a virtual environment." \
        "Type this once:   sudo apt-get install python3-venv"
    tell "making the virtual environment .venv with $("$1" --version)"
    local said
    said=$("$1" -m venv --clear "$venv" 2>&1) ||
        give_up "the virtual environment could not be made: $said"
}

# is_current GROUP: whether what is installed is what the lock says now.
is_current() {
    local stamp=$venv/.wheelcall-$1
    [[ -f $stamp && $(<"$stamp") == "$(checksum "$1")" ]]
}

# install_group GROUP: its packages from the lock, and for `run` the project itself.
install_group() {
    local group=$1 stamp=$venv/.wheelcall-$1
    rm -f "$stamp"
    tell "installing Python packages from requirements.lock ($group); this is done once"
    if [[ $group == run ]]; then
        # One package is published as source only; what builds it comes first.
        pip_install "$(locked '==setuptools')" --only-binary :all:
        pip_install "$(locked '==srt')"
    fi
    pip_install "$(locked "$group")" --only-binary :all:
    if [[ $group == run ]]; then
        pip_quietly install --no-deps --no-build-isolation --no-index --editable "$root" ||
            give_up "the project itself could not be installed; see above."
    fi
    checksum "$group" >"$stamp"
}

# What an installed group depends on, as one checksum.
checksum() {
    {
        locked "$1"
        "$venv/bin/python" --version 2>&1 || true # its Python may be gone since
        cat "$root/pyproject.toml"
        echo "$root"
    } | sha256sum | cut -d ' ' -f 1
}

# locked GROUP, or locked ==NAME: the entries of requirements.lock for a group, or for one package.
locked() {
    awk -v want="$1" '
        /^# for: / { on = index($0 " ", " " want " "); next }
        /^[a-z0-9]/ && want ~ /^==/ { on = index($0, substr(want, 3) "==") == 1 }
        on && !/^#/
    ' "$root/requirements.lock"
}

# pip_install REQUIREMENTS [OPTION...]: nothing but these, each file checked by its checksum.
pip_install() {
    pip_quietly install --no-deps --require-hashes --no-build-isolation --use-pep517 "${@:2}" \
        --requirement <(printf '%s\n' "$1") ||
        give_up "a Python package could not be fetched, or its checksum is wrong (see above)." \
            "Set-up needs the network once: start again when it is there." \
            "What was fetched is kept."
}

pip_quietly() {
    local quiet=(--quiet)
    [[ -t 2 ]] && quiet=()
    "$venv/bin/python" -m pip --disable-pip-version-check --no-input --retries 2 "$@" \
        "${quiet[@]}" >&2
}
