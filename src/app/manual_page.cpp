#include <fmt/format.h>

#include "app/manual.hpp"
#include "app/usage.hpp"

namespace wm::app {

namespace {

/// Text as roff takes it: a backslash, a hyphen that stays one, and no point or quote that begins a line.
std::string roff(std::string_view text) {
    std::string out;
    bool begins = true;
    for (const char c : text) {
        if (begins && (c == '.' || c == '\'')) out += "\\&";
        begins = c == '\n';
        if (c == '\\') out += "\\e";
        else if (c == '-') out += "\\-";
        else out += c;
    }
    return out;
}

std::string usage_lines(const Command& command) {
    std::string lines;
    std::string_view rest = command.usage;
    while (!rest.empty()) {
        const auto end = rest.find('\n');
        lines += roff(rest.substr(0, end)) + "\n";
        rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
    }
    return lines;
}

std::string option_item(const Option& option) {
    return fmt::format(".TP\n.B {}{}\n{}\n", roff(fmt::format("--{}", option.name)),
                       option.takes_value() ? fmt::format(" \\fI{}\\fR", roff(option.value)) : "", roff(option.meaning));
}

constexpr std::string_view environment = R"(.SH ENVIRONMENT
.TP
.B WITNESSMARK_PERSON\fR, \fBWITNESSMARK_PIN_FILE
Who is there and the file with the PIN, where persons have PINs.
.TP
.B WITNESSMARK_SHARE
The folder with checklists and fonts, if it is neither beside the program nor in /usr/share/witnessmark.
.TP
.B XDG_DATA_HOME\fR, \fBXDG_CONFIG_HOME\fR, \fBXDG_STATE_HOME
Where data, settings and the log lie when \-\-data is not given.
.SH FILES
.TP
.I ~/.local/share/witnessmark
The data folder: journal, photos, reports, keys, backups. Removing the program leaves it alone.
.TP
.I ~/.config/witnessmark/settings.toml
Company, mail server, backups. One in the data folder goes before it.
.TP
.I ~/.local/state/witnessmark/log
What was run, without a word about customers or crews; DIR/log with \-\-data DIR.
)";

constexpr std::string_view ending = R"(.SH EXIT STATUS
.TP
.B 0
done
.TP
.B 1
the answer is no: a reading does not conform or says too little, a sign\-off is refused, a seal is broken
.TP
.B 2
wrong use
.TP
.B 3
input cannot be read or understood
.TP
.B 4
cannot store or send
.SH CAUTIONS
Solar water heaters scald, burst, fall and give shocks. Witnessmark advises competent people. Local codes, the maker's
instructions and licensed people decide.
)";

}  // namespace

std::string manual_page() {
    std::string page = fmt::format(
        ".TH WITNESSMARK 1 \"\" \"Witnessmark {}\" \"User commands\"\n.SH NAME\nwitnessmark \\- record the commissioning of "
        "solar preheaters\n.SH SYNOPSIS\n.B witnessmark\n.RI [ form ]\n.RI [ value " "...]\n.RI [ option ...]\n",
        roff(program_version()));
    page += ".SH DESCRIPTION\nLeads an installer through the checks of a solar preheater of a house, judges each reading against its "
            "tolerance and the doubt of the\ninstrument, keeps each failure with its correction, seals a report for the customer, and shows "
            "the week to the quality lead.\nWithout a form it opens the window. Options may stand before or after the form.\n.SH FORMS\n";
    for (const auto& command : command_table()) {
        page += fmt::format(".SS {}\n.nf\n{}.fi\n.PP\n{}\n", roff(command.form), usage_lines(command), roff(command.does));
        for (const auto* option : options_of(command)) page += option_item(*option);
    }
    page += ".SH OPTIONS OF EVERY FORM\n";
    for (const auto* option : options_of_all_forms()) page += option_item(*option);
    page += option_item(*option_named("version"));
    page += environment;
    page += ending;
    return page;
}

}  // namespace wm::app
