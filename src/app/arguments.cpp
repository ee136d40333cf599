#include "app/arguments.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace wm::app {

const std::vector<Option>& option_table() {
    static const std::vector<Option> table = {
        {"data", true, "the data folder; made if missing"},
        {"at", true, "the clock for this call, as 2027-03-04T09:10:00+02:00"},
        {"json", false, "one JSON document on stdout"},
        {"help", false, "what this form does and takes"},
        {"version", false, "the version of the program"},
        {"person", true, "whose PIN it is"},
        {"pin-file", true, "a file whose first line is that PIN"},
        {"new-pin-file", true, "a file whose first line is the new PIN"},
        {"role", true, "installer, lead or owner"},
        {"checklist", true, "survey, kit, commissioning, service or tutorial"},
        {"facts", true, "a facts file (TOML)"},
        {"after", true, "the job whose facts are taken over"},
        {"practice", false, "a practice job, kept out of the audit"},
        {"set", true, "a fact as name=value; may be repeated"},
        {"place", true, "the place or part of a check"},
        {"instrument", true, "the instrument that was read"},
        {"photo", true, "a picture file"},
        {"caption", true, "what the picture shows"},
        {"no-facts", false, "nothing is known of the house yet; facts are asked when a check needs them"},
        {"id", true, "the mark that stands on an instrument"},
        {"type", true, "of an instrument, as torque wrench; left out, its card of an earlier job is taken over"},
        {"resolution", true, "of an instrument, with its unit"},
        {"uncertainty", true, "of an instrument, expanded (k = 2), with its unit"},
        {"cal-date", true, "the day an instrument was calibrated"},
        {"cal-due", true, "the day its calibration runs out"},
        {"cert", true, "the number of its certificate"},
        {"keep-position", false, "the place the camera wrote into the picture goes into its caption"},
        {"read-at", true, "when the reading was taken"},
        {"by", true, "the person"},
        {"week", true, "the week of the finding, 2027-W09"},
        {"finding", true, "which finding of that week, counted from 1"},
        {"kind", true, "the kind of the finding, as the week names it"},
        {"subject", true, "the crew, batch or instrument of the finding"},
        {"cause", true, "a word of the list of causes (act causes)"},
        {"remedy", true, "what is to be done"},
        {"due", true, "the day by which it is done, 2027-03-18"},
        {"follows", true, "an earlier action that did not help"},
        {"on", true, "the day on which it was done; today if left out"},
        {"note", true, "a remark"},
        {"days", true, "30 or 90"},
        {"batch", true, "a batch of parts, as printed on them"},
        {"letters", true, "a folder for the drafted letters"},
        {"visits", false, "open a service job for each house"},
        {"record", false, "keep the doubt in the journal"},
        {"as-found", true, "the error of the instrument as found, 35 kPa"},
        {"health", false, "which checks tell too little or cannot be answered well"},
        {"sure", false, "keep a value outside the plausible range"},
        {"from", true, "a file of entries (TOML); of trace, the first day in doubt; of restore, the backup"},
        {"status", false, "what backups there are, and what was not exchanged yet"},
        {"move-aside", false, "keep what is only here in the folder set-aside"},
        {"done", true, "what was done to put it right"},
        {"until", true, "a date, 2027-03-18"},
        {"search", true, "words that must stand in a row"},
        {"sort", true, "the column to sort by, with - in front for falling"},
        {"csv", false, "as CSV, which no spreadsheet takes for a formula"},
        {"owner", true, "who sees to it"},
        {"why", true, "the reason"},
        {"keep", true, "the entry that a person lets stand"},
        {"as", true, "crew or customer"},
        {"name", true, "the name of the person who signs"},
        {"strokes", true, "a drawn signature (SVG)"},
        {"refused", true, "the customer does not sign, and why"},
        {"issue", true, "which issue of the report: 1 the report, 2 its first supplement"},
        {"out", true, "where to write the report"},
        {"letter", false, "US Letter paper instead of A4"},
        {"server", true, "smtp://host:port or smtps://host:port"},
        {"user", true, "user name at the mail server"},
        {"password-file", true, "a file that holds the password"},
        {"ca", true, "a certificate file to trust"},
        {"crew", true, "the lead of a crew"},
        {"roof", true, "a covering, as the facts name it"},
        {"street", true, "a street, as the facts name it"},
        {"list", false, "list what there is"},
        {"pdf", true, "write the letter of the week to this file"},
        {"since", true, "only entries after this head; of a complaint, the day it began"},
        {"symptom", true, "what a customer noticed, a word of the list of symptoms"},
        {"words", true, "the customer's own words; at its end, what it was and what was done"},
        {"air", true, "temperature outside as the customer told it, \"-6 °C\""},
        {"complaint", true, "the number of a complaint, where several of a job are open"},
        {"close", true, "what it was: a failure of the list, or other"},
        {"proved-in", true, "the visit in which it was put right"},
        {"revisit", false, "open a visit for the complaint"},
        {"journal", false, "the journal of the data folder"},
        {"explain", false, "how to check by hand with sha256sum and openssl"},
        {"expect", true, "the fingerprint that the seal must have"},
        {"stamp", true, "a stamp server (RFC 3161), http:// or https://"},
        {"qr", true, "a photo of the code on page one"},
        {"into", true, "the folder to make"},
        {"weeks", true, "number of weeks: of the season; counted, up to the week"},
        {"seed", true, "seed of the season"},
        {"picture", true, "write a picture of the window to this file and quit"},
        {"screen", true, "the screen to open: jobs, run, sign, outbox, week, settings"},
        {"job", true, "the job to open"},
        {"check", true, "the check to open"},
        {"show", true, "how, plant, parts or house: what is shown first in place of the check; workshop: a checklist on the lead's bench"},
        {"theme", true, "day, night or sun"},
        {"size", true, "width x height of the window in pixels"},
        {"text", true, "text size in percent"},
        {"despite", true, "why a customer is erased before the period of the records has ended"},
        {"lock-after", true, "minutes without a touch until the window locks, once persons have PINs; 0 = never"},
        {"sound", true, "on or off: tones beside shape and word"},
        {"scale", true, "pixels per millimetre of the panel, as measured with the ruler"},
    };
    return table;
}

bool Arguments::has(std::string_view option) const { return options.find(option) != options.end(); }

std::string Arguments::value(std::string_view option, std::string_view otherwise) const {
    const auto found = options.find(option);
    return found == options.end() ? std::string{otherwise} : found->second;
}

std::vector<std::string> Arguments::values(std::string_view option) const {
    std::vector<std::string> all;
    const auto [first, last] = options.equal_range(option);
    for (auto at = first; at != last; ++at) all.push_back(at->second);
    return all;
}

Result<std::string> Arguments::word(std::size_t n, std::string_view meaning) const {
    if (n < words.size()) return words[n];
    const std::string form = words.empty() ? "witnessmark" : "witnessmark " + words.front();
    return refused({fmt::format("{} is missing.", meaning), form,
                    fmt::format("See {} --help for its form.", form), ProblemKind::WrongUse});
}

Result<Arguments> sort_arguments(const std::vector<std::string>& words) {
    Arguments sorted;
    bool options_ended = false;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (options_ended || !word.starts_with("--")) {
            sorted.words.push_back(word);
            continue;
        }
        if (word == "--") {
            options_ended = true;
            continue;
        }
        const auto equals = word.find('=');
        const std::string name = word.substr(2, equals == std::string::npos ? equals : equals - 2);
        const auto& table = option_table();
        const auto option = std::find_if(table.begin(), table.end(),
                                         [&](const Option& o) { return o.name == name; });
        if (option == table.end())
            return refused({fmt::format("There is no option --{}.", name), "the command line",
                            "See witnessmark --help for the options.", ProblemKind::WrongUse});
        if (!option->takes_value) {
            sorted.options.emplace(name, "");
        } else if (equals != std::string::npos) {
            sorted.options.emplace(name, word.substr(equals + 1));
        } else if (i + 1 < words.size()) {
            sorted.options.emplace(name, words[++i]);
        } else {
            return refused({fmt::format("--{} wants a value: {}.", name, option->meaning),
                            "the command line", fmt::format("Write --{} VALUE.", name),
                            ProblemKind::WrongUse});
        }
    }
    return sorted;
}

}  // namespace wm::app
