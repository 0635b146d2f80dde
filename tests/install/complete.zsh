# SPDX-License-Identifier: MIT
# zsh finds the completion in its folder and offers by it: zsh -f complete.zsh FOLDER
zmodload zsh/zpty || exit 1
zpty probe true 2>/dev/null || { print "no terminals here, as in a bare chroot: zsh not tried"; exit 0 }
zpty -d probe
folder=$1
here=$(mktemp -d)
cd $here && touch one.json two.txt
# What a person sees who types it and presses the tabulator key twice.
seen() {
    zpty shell "zsh -f -i"
    zpty -w shell "PS1= ; unsetopt zle_bracketed_paste; fpath=(${(q)folder} \$fpath); autoload -Uz compinit; compinit -D -u; zstyle ':completion:*' list-colors ''; LISTMAX=0; stty cols 200; cd ${(q)here}; echo READY"
    local text line
    while zpty -r shell line '*READY*'; do [[ $line == *$'\n'READY* || $line == READY* ]] && break; done
    zpty -w -n shell "$1"$'\t\t'
    local n=0
    text=
    while (( n++ < 40 )); do
        if zpty -rt shell line; then text+=$line; n=0; else sleep 0.05; fi
        [[ $text == *$2* ]] && break
    done
    zpty -d shell
    print -r -- "$text"
}
expect() { # TYPED WANTED
    [[ "$(seen "$1" "$2")" == *$2* ]] || { print "zsh, after \"$1\": no \"$2\""; exit 1; }
}
expect 'hollowtop ch' 'hollowtop check'
expect 'hollowtop check --me' '--mesh'
expect 'hollowtop check --mesh co' 'coarse'
expect 'hollowtop check o' 'one.json'
expect 'hollowtop uses workb' 'workbench'
expect 'hollowtop check --' 'the exit status tells the verdict'
rm -rf $here
