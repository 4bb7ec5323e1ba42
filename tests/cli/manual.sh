#!/bin/sh
# What is written from the tables of commands, options and keys: help, manual pages, completion for bash and zsh. That
# nothing is missing and nothing is there that the program does not take; and what is said to a slip of the hand.
# usage: BREVIS=build/brevis sh tests/cli/manual.sh
set -u
cd "$(dirname "$0")/../.." || exit 1
. tests/support/cli.sh
top=$PWD

# ---- what the program says it takes: one name a line, sorted ----
commands=$("$brevis" help | sed -n 's/^  \([a-z_][a-z_]*\)  *[^ ].*/\1/p')
options() { "$brevis" help "$1" | sed -n 's/^  \(-h, \)\{0,1\}\(--[a-z-]*\).*/\2/p' | sort; }
check 'there are commands' [ "$(echo "$commands" | wc -l)" -gt 15 ]
# The list itself is the table: every row of cli/main.c is in it.
sed -n 's/^    {"\([a-z_]*\)", ".*/\1/p' cli/main.c >"$box/rows"
check 'help lists the rows of the table' sh -c "echo '$commands' | cmp -s - '$box/rows'"

# ---- a screen of 24 lines and 80 columns, the last line for the next command ----
screen() { # screen FILE
    awk 'length > 80 { wide = 1; print "too wide: " $0 } END { if (NR > 23) print NR " lines"; exit wide || NR > 23 || NR < 3 }' "$1"
}
"$brevis" help >"$box/list"
check 'the list of commands fits a screen' screen "$box/list"
for command in $commands; do
    "$brevis" help "$command" >"$box/help_$command"
    check "help of $command fits a screen" screen "$box/help_$command"
    check "  and shows an example" grep -q '^For example$' "$box/help_$command"
done

# ---- every example works ----
mkdir -p "$box/try/bin" && ln -s "$brevis" "$box/try/bin/brevis" && ln -s "$top/scenarios" "$box/try/scenarios"
works() { # works COMMAND: its examples, one after the other
    sed -n '/^For example$/,$s/^  //p' "$box/help_$1" >"$box/example" && grep -q "^brevis $1" "$box/example" &&
        (cd "$box/try" && PATH=$box/try/bin:$PATH exits 0 sh -eu "$box/example")
}
for command in $commands; do check "examples of $command work" works "$command"; done

# ---- manual pages ----
"$brevis" help --page >"$box/brevis.1"
"$brevis" help --page scenario >"$box/brevis-scenario.5"
if command -v mandoc >/dev/null 2>&1; then
    for page in brevis.1 brevis-scenario.5; do
        check "$page: nothing to complain about" sh -c "found=\$(mandoc -Tlint -Wwarning '$box/$page' 2>&1); echo \"\$found\"; [ -z \"\$found\" ]"
        check "$page: no line of mdoc shows through" sh -c "! mandoc -Tascii '$box/$page' | col -b | grep -qE '^ *\.[A-Z][a-z]|\\\\[(&]'"
    done
else
    echo 'mandoc is not here: the pages are not looked over by it'
fi
dated=$(sed -n 's/^DATE *:= *//p' Makefile)
check 'the page has the date of the version' grep -qx "\.Dd $dated" "$box/brevis.1"
section() { awk -v name="$1" '/^\.Sh / { on = $0 == ".Sh " name } on' "$box/brevis.1"; }
check 'the page has every command, and no others' sh -c \
    "sed -n '/^\.Sh COMMANDS/,/^\.Sh OPTIONS/s/^\.It Ic \([a-z_]*\) No.*/\1/p' '$box/brevis.1' | cmp -s - '$box/rows'"
paged() { # paged COMMAND: options of its entry
    section COMMANDS | awk -v command="$1" '/^\.It Ic / { on = $3 == command } on' |
        sed -n 's/^\.Fl \\-\([a-z\\-]*\).*/--\1/p' | tr -d '\\' | sort
}
for command in $commands; do
    options "$command" >"$box/options"
    paged "$command" >"$box/found"
    check "the page has the options of $command, and no others" cmp "$box/options" "$box/found"
done
for command in $commands; do options "$command"; done | sort -u >"$box/every"
section OPTIONS | sed -n 's/^\.It .*Fl \\-\([a-z\\-]*\).*/--\1/p' | tr -d '\\' | sort >"$box/found"
check 'each option is described once' cmp "$box/every" "$box/found"
sed -n 's/^ *BRV_EXIT_[A-Z]* = \([0-9]*\).*/\1/p' cli/command/command.h | sort >"$box/codes"
section 'EXIT STATUS' | sed -n 's/^\.It \([0-9]*\)$/\1/p' | sort >"$box/found"
check 'every exit code' cmp "$box/codes" "$box/found"
# OMP_NUM_THREADS and OMP_STACKSIZE are read by the library for threads, and by no line of this program.
{ grep -rhoE 'getenv\("[A-Z_]+"' cli | grep -oE '[A-Z_]{2,}'; echo OMP_NUM_THREADS; echo OMP_STACKSIZE; } | sort -u >"$box/looked_at"
section ENVIRONMENT | sed -n 's/^\.It Ev "\(.*\)"$/\1/p' | sort >"$box/found"
check 'every variable that is looked at, and no others' cmp "$box/looked_at" "$box/found"
check 'its cautions' grep -q 'Not a medical device' "$box/brevis.1"

# Keys with their section: those of the page of parameters, which is written from the same table by other code.
"$brevis" explain --page | awk -F'|' '/^## / { section = substr($0, 4) } /^## Defaults/ { exit } /^\| `/ { print section, $2 }' |
    tr -d '\140' | awk '{ print $1 "." $2 }' >"$box/keys"
awk '/^\.Sh / { on = /^\.Sh SECTION/; section = $3 } on && /^\.It Ic/ { print section "." $3 }' "$box/brevis-scenario.5" >"$box/found"
check 'there are keys' [ "$(wc -l <"$box/keys")" -gt 80 ]
check 'brevis-scenario has every key, and no others' cmp "$box/keys" "$box/found"
for line in Allowed Default Source; do
    check "  and of each its $line" [ "$(grep -c "^$line: " "$box/brevis-scenario.5")" = "$(wc -l <"$box/keys")" ]
done
check 'the page says when a run ends with 5' sh -c "tr '\n' ' ' <'$box/brevis.1' | grep -q 'own check, and nothing was written: budget of the light'"
check 'and when it does not' sh -c "tr '\n' ' ' <'$box/brevis.1' | grep -q 'larger error than light.error is done, with a note'"
check 'so does the page of results' grep -q '^| 0 | done; .*light.error.* told in a note' docs/reference/results.md
check 'a walk that ends by its number' exits 0 "$brevis" run --no-figures --out "$box/walk" --set light.method=sampled \
    --set light.photons=1000 scenarios/hand_532nm.yaml
check '  tells its error in a note' sh -c "tr '\n' ' ' <'$box/stdout' | tr -s ' ' | grep -q 'standard error at most [0-9.]* %, more than was asked'"
check 'no such page' exits 2 "$brevis" help --page skin
check '  is told which there is' says 'the word scenario'
check 'no such shell' exits 2 "$brevis" help --shell fish
check '  is told which there are' says 'bash or zsh, not fish'

# ---- bash ----
if command -v bash >/dev/null 2>&1; then
    "$brevis" help --shell bash >"$box/brevis.bash"
    cat >"$box/offered" <<'END' # offered WORD...: what is offered for the last of these, one a line
. "$SCRIPT" 2>/dev/null
COMP_WORDS=("$@")
COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
_brevis
printf '%s\n' "${COMPREPLY[@]}"
END
    offered() { (cd "$box/try" && SCRIPT=$box/brevis.bash bash "$box/offered" brevis "$@"); }
    offers() { # offers 'WHAT IN ALL' WORD...
        wanted=$1
        shift
        found=$(offered "$@" | tr '\n' ' ')
        [ "$found" = "$wanted " ] || { echo "offered: $found"; return 1; }
    }
    check 'bash reads it' bash -n "$box/brevis.bash"
    { cat "$box/rows"; echo --help; echo --version; } >"$box/words"
    offered '' >"$box/found"
    check 'bash: every command, and no others' cmp "$box/words" "$box/found"
    for command in $commands; do
        options "$command" >"$box/options"
        offered "$command" -- | sort >"$box/found"
        check "bash: the options of $command, and no others" cmp "$box/options" "$box/found"
    done
    check 'bash: the beginning of a command' offers 'compare cover colour' co
    check 'bash: a command for help' offers 'window' help w
    check 'bash: a section to explain' offers 'title' explain ti
    check 'bash: a key to explain' offers 'light.profile' explain light.pro
    check 'bash: a key after --set, one sign behind it' offers 'light.profile=' run --set light.prof
    check 'bash: a word for a key' offers 'flat' run --set light.profile = f
    check 'bash: the words before the first letter' offers 'flat gaussian' run --set light.profile =
    check 'bash: --set=, parted' offers 'layered' run --set = light.method = l
    check 'bash: in one word' offers 'light.method=layered' run --set light.method=l
    check 'bash: all in one word' offers '--set=light.method=layered' run --set=light.method=l
    check 'bash: a ready skin' offers 'dark' run --set skin = d
    check 'bash: a layer' offers 'basal' run --set grain.layer = b
    check 'bash: a body site' offers 'neck' run --set skin.site = ne
    check 'bash: keys of a lesion' offers 'lesion.basal.melanosomes=' run --set lesion.basal.m
    check 'bash: only numbers are varied' offers 'light.photons= light.pulse= light.passes= light.pause=' sweep --vary light.p
    check 'bash: nothing for a number' offers '' run --threads ''
    check 'bash: a folder for --out' offers 'scenarios' run --out sc
    check 'bash: a file' offers 'scenarios/hand_532nm.yaml' run --quiet scenarios/ha
    # Keys that are offered are keys: checked against a ready skin, whose layers they are written for.
    bash -c '. "$1"; printf "%s\n" "${_brevis_paths[@]}"' bash "$box/brevis.bash" >"$box/paths"
    check 'bash: keys are offered' [ "$(wc -l <"$box/paths")" -gt 120 ]
    while read -r path; do
        "$brevis" check --set "$path=?" scenarios/lesson/01_seven_nanoseconds.yaml 2>&1 |
            grep -E 'is not a key|no layer called|keeps its kind'
    done <"$box/paths" >"$box/found"
    check 'bash: every key that is offered is one' [ ! -s "$box/found" ]
else
    echo 'bash is not here: its completion is left out'
fi

# ---- zsh ----
if command -v zsh >/dev/null 2>&1; then
    "$brevis" help --shell zsh >"$box/_brevis"
    check 'zsh reads it' zsh -n "$box/_brevis"
    # The functions of zsh's own completion, which say what they were given.
    cat >"$box/offered" <<'END'
compdef() { :; }
_describe() { print -rl -- ${(P)argv[-1]%%:*}; }
_arguments() { print -rl -- "$@"; }
compadd() { print -rl -- ${(P)argv[-1]}; }
source $SCRIPT
words=(brevis "$@")
CURRENT=$#words
_brevis
END
    offered() { SCRIPT=$box/_brevis zsh -f "$box/offered" "$@"; }
    offered '' >"$box/found"
    check 'zsh: every command, and no others' cmp "$box/rows" "$box/found"
    for command in $commands; do
        options "$command" >"$box/options"
        offered "$command" '' | sed -n 's/^\**\(--[a-z-]*\)=*\[.*/\1/p' | sort >"$box/found"
        check "zsh: the options of $command, and no others" cmp "$box/options" "$box/found"
    done
    check 'zsh: words of help' sh -c "SCRIPT='$box/_brevis' zsh -f '$box/offered' help '' | grep -q '^\*:word:( run '"
    # Its own completion takes it, and brevis then has it.
    check 'zsh: its completion loads it' sh -c "mkdir -p '$box/functions' && cp '$box/_brevis' '$box/functions' &&
        zsh -f -c 'fpath=($box/functions \$fpath); autoload -Uz compinit && compinit -u -D && [[ \$_comps[brevis] == _brevis ]]'"
else
    echo 'zsh is not here: its completion is left out'
fi

# ---- slips of the hand ----
slip() { # slip WHAT SAYS WORD...: exit 2 and these words
    what=$1
    want=$2
    shift 2
    check "$what" exits 2 "$brevis" "$@"
    check "  is told: $want" grep -qF -e "$want" "$box/stderr"
}
slip 'a slip in a command' 'did you mean run?' rum scenarios/hand_532nm.yaml
slip 'capitals' 'did you mean run?' Run scenarios/hand_532nm.yaml
slip 'two letters swapped' 'did you mean ladder?' laddre
slip 'the command left out' 'as in `brevis run scenarios/hand_532nm.yaml`' scenarios/hand_532nm.yaml
slip 'left out, a file that is not there' 'as in `brevis run mine.yaml`' mine.yaml
slip 'left out, standard input' 'as in `brevis run -`' -
slip 'an option first' 'a command comes first' --force scenarios/hand_532nm.yaml
slip 'nothing near' '`brevis help` lists them' zzzzzz
slip 'a slip in an option' 'did you mean --force?' run --forse scenarios/hand_532nm.yaml
slip 'one of another command' 'brevis run: --draws belongs to spread;' run --draws 64 scenarios/hand_532nm.yaml
slip 'one of several others' '--csv belongs to tissue' check --csv scenarios/hand_532nm.yaml
slip 'an option that nobody has' 'there is no option --zzzzzz' run --zzzzzz scenarios/hand_532nm.yaml
check 'no screen is longer for nothing asked' exits 2 "$brevis"
check '  the list of commands' cmp -s "$box/stderr" "$box/list"

counted_out
