# Completion for bash: commands, then the options that a command's --help names, and files.
_markerlamp() {
    local now=${COMP_WORDS[COMP_CWORD]} words
    if [[ $COMP_CWORD -eq 1 ]]; then
        words=$("$1" --help 2>/dev/null | sed -n '/^Commands:/,/^$/s/^  \([a-z][a-z-]*\) .*/\1/p')
        words="$words --help --version"
    elif [[ $now == -* ]]; then
        words=$("$1" "${COMP_WORDS[1]}" --help 2>/dev/null | grep -o -- '--[a-z][a-z-]*' | sort -u)
    fi
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$now")
    [[ $now == -* ]] || mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -f -- "$now")
}
complete -o filenames -F _markerlamp markerlamp
