#!/bin/sh
# Completion in a real zsh: complete_in_zsh.sh PROGRAM FOLDER. Skipped (77) where there is no zsh,
# or no pseudo-terminal to type into.
# A line is typed with a Tab at its end, as a person would, and what stands on the line afterwards is compared.
set -eu
program=$1 folder=$2
command -v zsh >/dev/null || { echo "no zsh here"; exit 77; }
script -qec true /dev/null >/dev/null 2>&1 || { echo "no pseudo-terminal here"; exit 77; }
rm -rf "$folder" && mkdir -p "$folder/functions" && cd "$folder"
"$program" completion zsh >functions/_leewheel
touch scenario.yaml

cat >complete.zsh <<'ZSH'
zmodload zsh/zpty
zpty shell TERM=dumb zsh -f -i
{
  print -r -- "fpath=($PWD/functions \$fpath); autoload -U compinit; compinit -u -D; unsetopt beep; PROMPT="
  print -r -- 'tell() { print -r -- "[$BUFFER]"; BUFFER= }; zle -N tell; bindkey "^X" tell; print READY'
} | while read -r line; do zpty -w shell "$line"; done
zpty -r shell said '*READY*READY*'  # once typed, once printed
faults=0
completes() {
  zpty -w -n shell "$1"$'\t\030'
  zpty -r shell said '*\[*\]*'
  said=${${said##*\[}%%\]*}
  [[ $said == $2 ]] && return
  print -r -- "'$1' became '$said', expected '$2'"
  faults=1
}
completes 'leewheel she' 'leewheel she'            # sheet or shelter
completes 'leewheel shel' 'leewheel shelter '
completes 'leewheel lineup --thr' 'leewheel lineup --threads '
completes 'leewheel lineup --for we' 'leewheel lineup --for weakest '
completes 'leewheel fields beh' 'leewheel fields behaviour '
completes 'leewheel ride scen' 'leewheel ride scenario.yaml '
zpty -d shell
exit $faults
ZSH
timeout 60 zsh -f complete.zsh
