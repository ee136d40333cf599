// Completions: each shell gets the same three tables, which second words a form has, which options it takes, and what
// stands at which place; jobs and checks are asked of the program itself, in the data folder that is named on the line.
#include <fmt/format.h>

#include <algorithm>

#include "app/manual.hpp"
#include "app/usage.hpp"

namespace wm::app {

namespace {

std::string with_blanks(std::string_view words) {
    std::string out{words};
    std::replace(out.begin(), out.end(), '|', ' ');
    return out;
}

/// In single quotes of a shell.
std::string in_quotes(std::string_view text) {
    std::string out = "'";
    for (const char c : text) out += c == '\'' ? std::string{"'\\''"} : std::string{c};
    return out + "'";
}

std::string offer_word(Value value) {
    switch (value) {
        case Value::File: return "files";
        case Value::Folder: return "folders";
        case Value::Job: return "jobs";
        case Value::Check: return "checks";
        case Value::None:
        case Value::Text:
        case Value::Choice: return "nothing";
    }
    return "nothing";
}

std::string options_in_words(const Command& command) {
    std::string words;
    for (const auto* option : options_of(command)) words += fmt::format(" --{}", option->name);
    return words;
}

std::string all_forms() {
    std::string words;
    for (const auto& command : command_table()) words += std::string{words.empty() ? "" : " "} + std::string{command.form};
    return words;
}

std::string options_of_all() {
    std::string words;
    for (const auto* option : options_of_all_forms()) words += fmt::format(" --{}", option->name);
    return words;
}

/// The lines "pattern) statement ;;" of a case over options that take a value. `offer` makes the statement.
template <class Offer>
std::string cases_of_values(const Offer& offer) {
    std::string lines;
    for (const auto& option : option_table())
        if (option.takes_value()) lines += fmt::format("    --{}) {} ;;\n", option.name, offer(option));
    return lines;
}

std::string verbs_of(const Command& command) {
    std::string verbs;
    for (const auto& usage : usages_of(command))
        if (!usage.verb.empty()) verbs += (verbs.empty() ? "" : " ") + usage.verb;
    return verbs;
}

/// "form/verb/n": what stands at the n-th place behind it, from 1; only places where a shell can offer something.
std::string cases_of_places() {
    std::string lines;
    for (const auto& command : command_table())
        for (const auto& usage : usages_of(command))
            for (std::size_t n = 0; n < usage.values.size(); ++n)
                if (const auto value = offered_for(usage.values[n]); value != Value::Text)
                    lines += fmt::format("    {}/{}/{}) echo {} ;;\n", command.form, usage.verb,
                                         usage.values[n].ends_with("…") ? "*" : std::to_string(n + 1), offer_word(value));
    return lines;
}

std::string cases_by_form(std::string (*words)(const Command&)) {
    std::string lines;
    for (const auto& command : command_table())
        if (const auto found = words(command); !found.empty()) lines += fmt::format("    {}) echo {} ;;\n", command.form, in_quotes(found));
    return lines;
}

/// Functions that bash and zsh understand alike.
std::string shared_functions() {
    return "__witnessmark_verbs() {\n    case $1 in\n" + cases_by_form(verbs_of) + "    esac\n}\n" +
           "__witnessmark_options() {\n    case $1 in\n" + cases_by_form(options_in_words) + "    esac\n    echo " +
           in_quotes(options_of_all()) + "\n}\n" + "__witnessmark_value() {\n    case $1 in\n" + cases_of_values([](const Option& option) {
               return option.follows == Value::Choice ? "echo words " + with_blanks(option.value) : "echo " + offer_word(option.follows);
           }) +
           "    *) return 1 ;;\n    esac\n}\n" + "__witnessmark_place() {\n    case $1 in\n" + cases_of_places() +
           "    *) echo nothing ;;\n    esac\n}\n" +
           R"sh(# $1 the data folder, or nothing; then the words of a form
__witnessmark_ask() {
    local folder=$1
    shift
    # zsh would keep an option and its value in one word.
    if [ -n "$folder" ]; then set -- "$@" --data "$folder"; fi
    witnessmark "$@" 2>/dev/null
}
__witnessmark_jobs() {
    __witnessmark_ask "$1" job list | sed -n 's/^\(J-[A-Z0-9-]*\) .*/\1/p'
}
# $1 the job, $2 the data folder, or nothing
__witnessmark_checks() {
    __witnessmark_ask "$2" job show "$1" | sed -n 's/^  [# ][* ] \([a-z][a-z0-9-]*\) .*/\1/p'
}
)sh";
}

}  // namespace

std::string completions_for_bash() {
    return "# Completions of witnessmark for bash; made by \"witnessmark manual bash\".\n" + shared_functions() +
           R"sh(__witnessmark_offer() {
    local kind=$1
    shift
    case $kind in
    files) compopt -o filenames; mapfile -t COMPREPLY < <(compgen -f -- "$cur") ;;
    folders) compopt -o filenames; mapfile -t COMPREPLY < <(compgen -d -- "$cur") ;;
    jobs) mapfile -t COMPREPLY < <(compgen -W "$(__witnessmark_jobs "$data")" -- "$cur") ;;
    checks) mapfile -t COMPREPLY < <(compgen -W "$(__witnessmark_checks "$job" "$data")" -- "$cur") ;;
    words) mapfile -t COMPREPLY < <(compgen -W "$*" -- "$cur") ;;
    esac
}
_witnessmark() {
    local cur=${COMP_WORDS[COMP_CWORD]} last=${COMP_WORDS[COMP_CWORD-1]} form="" verb="" job="" data="" i word count=0 verbs
    COMPREPLY=()
    # "--data=DIR" comes as three words.
    if [ "$cur" = "=" ]; then cur=""; elif [ "$last" = "=" ]; then last=${COMP_WORDS[COMP_CWORD-2]}; fi
    for ((i = 1; i < COMP_CWORD; i++)); do
        word=${COMP_WORDS[i]}
        case $word in
        --*)
            if __witnessmark_value "$word" >/dev/null; then
                i=$((i + 1))
                if [ "${COMP_WORDS[i]}" = "=" ]; then i=$((i + 1)); fi
                if [ "$word" = --data ] && [ "$i" -lt "$COMP_CWORD" ]; then data=${COMP_WORDS[i]}; fi
                if [ "$word" = --job ] && [ "$i" -lt "$COMP_CWORD" ]; then job=${COMP_WORDS[i]}; fi
            fi ;;
        *)
            if [ -z "$form" ]; then
                form=$word
            elif [ -z "$verb" ] && [ "$count" -eq 0 ] && [[ " $(__witnessmark_verbs "$form") " = *" $word "* ]]; then
                verb=$word
            else
                count=$((count + 1))
                if [ -z "$job" ]; then job=$word; fi
            fi ;;
        esac
    done
    local kind
    if kind=$(__witnessmark_value "$last"); then
        # shellcheck disable=SC2086
        __witnessmark_offer $kind
        return
    fi
    if [[ $cur = -* ]]; then
        __witnessmark_offer words "$(__witnessmark_options "$form")" --version
    elif [ -z "$form" ]; then
        __witnessmark_offer words )sh" +
           in_quotes(all_forms()) + R"sh(
    else
        verbs=$(__witnessmark_verbs "$form")
        # shellcheck disable=SC2046
        __witnessmark_offer $(__witnessmark_place "$form/$verb/$((count + 1))")
        if [ -z "$verb" ] && [ "$count" -eq 0 ] && [ -n "$verbs" ]; then
            mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -W "$verbs" -- "$cur")
        fi
    fi
}
complete -F _witnessmark witnessmark
)sh";
}

std::string completions_for_zsh() {
    std::string meanings = "__witnessmark_meanings=(\n";
    for (const auto& option : option_table()) meanings += fmt::format("    --{} {}\n", option.name, in_quotes(option.meaning));
    meanings += ")\n__witnessmark_forms=(\n";
    for (const auto& command : command_table())
        meanings += "    " + in_quotes(fmt::format("{}:{}", command.form, command.does.substr(0, command.does.find_first_of(".;:\n")))) + "\n";
    meanings += ")\n";
    return "#compdef witnessmark\n# Completions of witnessmark for zsh; made by \"witnessmark manual zsh\".\n"
           "typeset -gA __witnessmark_meanings\ntypeset -ga __witnessmark_forms\n" +
           meanings + shared_functions() + R"sh(__witnessmark_offer() {
    case $1 in
    files) _files ;;
    folders) _files -/ ;;
    jobs) compadd -- ${(f)"$(__witnessmark_jobs "$data")"} ;;
    checks) compadd -- ${(f)"$(__witnessmark_checks "$job" "$data")"} ;;
    words) shift; compadd -- "$@" ;;
    *) return 1 ;;
    esac
}
_witnessmark() {
    local form="" verb="" job="" data="" word kind name last=$words[CURRENT-1]
    local -i i count=0
    local -a verbs described
    for ((i = 2; i < CURRENT; i++)); do
        word=$words[i]
        case $word in
        --data=*) data=${word#--data=} ;;
        --*=*) ;;
        --*)
            if __witnessmark_value "$word" >/dev/null; then
                i+=1
                if [[ $word = --data && $i -lt $CURRENT ]]; then data=$words[i]; fi
                if [[ $word = --job && $i -lt $CURRENT ]]; then job=$words[i]; fi
            fi ;;
        *)
            if [[ -z $form ]]; then
                form=$word
                verbs=(${=$(__witnessmark_verbs "$form")})
            elif [[ -z $verb && $count -eq 0 && ${verbs[(Ie)$word]} -gt 0 ]]; then
                verb=$word
            else
                count+=1
                if [[ -z $job ]]; then job=$word; fi
            fi ;;
        esac
    done
    if kind=$(__witnessmark_value "$last"); then
        __witnessmark_offer ${=kind}
        return
    fi
    if [[ $words[CURRENT] = --*=* ]] && kind=$(__witnessmark_value "${words[CURRENT]%%=*}"); then
        compset -P 1 '*='
        __witnessmark_offer ${=kind}
        return
    fi
    if [[ $words[CURRENT] = -* ]]; then
        for name in ${=$(__witnessmark_options "$form")} --version; do described+=("$name:${__witnessmark_meanings[$name]}"); done
        _describe option described
    elif [[ -z $form ]]; then
        _describe form __witnessmark_forms
    else
        if [[ -z $verb && $count -eq 0 && ${#verbs} -gt 0 ]]; then compadd -- $verbs; fi
        __witnessmark_offer $(__witnessmark_place "$form/$verb/$((count + 1))")
    fi
}
if [[ $funcstack[1] = _witnessmark ]]; then _witnessmark "$@"; else compdef _witnessmark witnessmark; fi
)sh";
}

std::string completions_for_fish() {
    std::string text = "# Completions of witnessmark for fish; made by \"witnessmark manual fish\".\n"
                       R"sh(function __witnessmark_words
    # What stands on the line so far without options and their values: form, second word, values.
    set -l with_value )sh";
    for (const auto& option : option_table())
        if (option.takes_value()) text += fmt::format(" --{}", option.name);
    text += R"sh(
    set -l words
    set -l skip no
    for word in (commandline -opc)[2..-1]
        if test $skip = yes
            set skip no
        else if contains -- $word $with_value
            set skip yes
        else if not string match -q -- '--*' $word
            set -a words $word
        end
    end
    # Of nothing, printf would make one empty word.
    if set -q words[1]
        printf '%s\n' $words
    end
end
function __witnessmark_named
    # The value of the option $argv[1] on the line, if it is there.
    set -l words (commandline -opc)
    for i in (seq (count $words))
        if test "$words[$i]" = "$argv[1]"; and test $i -lt (count $words)
            echo $words[(math $i + 1)]
        else if string match -q -- "$argv[1]=*" $words[$i]
            string replace -- "$argv[1]=" '' $words[$i]
        end
    end
end
function __witnessmark_ask
    set -l data (__witnessmark_named --data)
    if test -n "$data"
        witnessmark $argv --data $data 2>/dev/null
    else
        witnessmark $argv 2>/dev/null
    end
end
function __witnessmark_jobs
    __witnessmark_ask job list | string match -r -g '^(J-[A-Z0-9-]+) '
end
function __witnessmark_checks
    set -l job (__witnessmark_named --job) (__witnessmark_words | string match -r '^J-.*')
    if test -n "$job[1]"
        __witnessmark_ask job show $job[1] | string match -r -g '^  [# ][* ] ([a-z][a-z0-9-]*) '
    end
end
function __witnessmark_form
    # Is the form $argv[1], and the second word, if one is named, $argv[2]?
    set -l words (__witnessmark_words)
    test "$words[1]" = "$argv[1]"; or return 1
    test (count $argv) -eq 1; or test "$words[2]" = "$argv[2]"
end
function __witnessmark_at
    # Form, second word ("" for none) and how many values stand behind it already; "*" for any number.
    set -l words (__witnessmark_words)
    test "$words[1]" = "$argv[1]"; or return 1
    set -l before 1
    if test -n "$argv[2]"
        test "$words[2]" = "$argv[2]"; or return 1
        set before 2
    end
    test "$argv[3]" = '*'; or test (count $words) -eq (math $before + $argv[3])
end
complete -c witnessmark -f
)sh";
    const auto offered = [](Value value, std::string_view words) -> std::string {
        switch (value) {
            case Value::File: return " -r -F";
            case Value::Folder: return " -x -a '(__fish_complete_directories (commandline -ct))'";
            case Value::Job: return " -x -a '(__witnessmark_jobs)'";
            case Value::Check: return " -x -a '(__witnessmark_checks)'";
            case Value::Choice: return " -x -a " + in_quotes(with_blanks(words));
            case Value::Text: return " -x";
            case Value::None: return "";
        }
        return "";
    };
    const auto option_line = [&](const Option& option, const std::string& when) {
        return fmt::format("complete -c witnessmark{} -l {}{} -d {}\n", when, option.name, offered(option.follows, option.value),
                           in_quotes(option.meaning));
    };
    for (const auto* option : options_of_all_forms()) text += option_line(*option, "");
    text += option_line(*option_named("version"), "");
    for (const auto& command : command_table()) {
        text += fmt::format("complete -c witnessmark -n 'test (count (__witnessmark_words)) -eq 0' -a {} -d {}\n", command.form,
                            in_quotes(command.does.substr(0, command.does.find_first_of(".;:\n"))));
        for (const auto* option : options_of(command)) text += option_line(*option, fmt::format(" -n '__witnessmark_form {}'", command.form));
        for (const auto& usage : usages_of(command)) {
            if (!usage.verb.empty())
                text += fmt::format("complete -c witnessmark -n '__witnessmark_at {} \"\" 0' -a {}\n", command.form, usage.verb);
            for (std::size_t n = 0; n < usage.values.size(); ++n)
                if (const auto value = offered_for(usage.values[n]); value != Value::Text)
                    text += fmt::format("complete -c witnessmark -n '__witnessmark_at {} \"{}\" {}'{}\n", command.form, usage.verb,
                                        usage.values[n].ends_with("…") ? "\"*\"" : std::to_string(n),
                                        value == Value::File ? " -F" : offered(value, "").substr(3));
        }
    }
    return text;
}

}  // namespace wm::app
