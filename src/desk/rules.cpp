#include "desk/rules.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <set>

#include "desk/day_plan.hpp"
#include "desk/moment.hpp"

namespace wm::desk {

namespace {

using measure::Outcome;

std::string joined(const std::vector<std::string>& words) {
    std::string text;
    for (const auto& word : words) text += (text.empty() ? "" : "; ") + word;
    return text;
}

// The first five, and how many more there are.
std::string first_of(const std::vector<std::string>& words, std::string_view between) {
    constexpr std::size_t most = 5;
    const auto end = words.begin() + static_cast<std::ptrdiff_t>(std::min(most, words.size()));
    auto text = fmt::format("{}", fmt::join(words.begin(), end, between));
    if (words.size() > most) text += fmt::format("{}and {} more", between, words.size() - most);
    return text;
}

// Names in one text: commas, semicolons and "and" part them.
int people_in(std::string text) {
    for (std::size_t at; (at = text.find(" and ")) != std::string::npos;) text.replace(at, 5, ",");
    int people = 0;
    bool letters = false;
    for (const char c : text + ",") {
        if (c == ',' || c == ';') {
            people += letters ? 1 : 0;
            letters = false;
        } else if (c != ' ') {
            letters = true;
        }
    }
    return people;
}

bool wants_calibration(const JobInHand& job, const std::string& type) {
    const auto* found = job.library->type_named(type);
    return found != nullptr && found->calibrated;
}

// Empty when the instrument may be used on that day.
std::string objection(const JobInHand& job, const checklist::InstrumentInUse& instrument, const std::string& day) {
    if (instrument.preuse == checklist::PreUse::Failed)
        return instrument.card.id + " failed its check before use";
    switch (measure::calibration_state(instrument.card, day)) {
        case measure::CalibrationState::InDate: return "";
        case measure::CalibrationState::NotNeeded:
            return wants_calibration(job, instrument.card.type) ? instrument.card.id + " has no calibration date"
                                                                : "";
        case measure::CalibrationState::Overdue:
            return fmt::format("{} was due for calibration on {}", instrument.card.id,
                               instrument.card.calibration_due.value_or(""));
        case measure::CalibrationState::NotYet:
            return fmt::format("{} is calibrated only on {}", instrument.card.id,
                               instrument.card.calibrated_on.value_or(""));
        case measure::CalibrationState::DatesUnclear:
            return instrument.card.id + " has calibration dates that are no dates";
    }
    return "";
}

/// Whether everything that is missing was stated once and went with the customer, after the crew had signed.
bool erased_after_signing(const JobInHand& job, const std::vector<std::string>& missing) {
    const auto& state = job.state();
    const bool crew_signed = std::any_of(state.signatures.begin(), state.signatures.end(),
                                         [](const auto& each) { return each.by.role == record::SignRole::Crew; });
    return state.erased && crew_signed && std::all_of(missing.begin(), missing.end(), [&](const std::string& key) {
               const auto* fact = state.fact(key);
               const auto* words = fact == nullptr ? nullptr : std::get_if<record::Personal>(fact);
               return words != nullptr && !words->text;
           });
}

}  // namespace

RuleAnswer crew_licences(const JobInHand& job) {
    RuleAnswer answer;
    std::vector<std::string> faults;
    for (const auto& [key, name] : {std::pair{"crew.height_card", "height card"},
                                    std::pair{"crew.plumb_lic", "plumbing licence"},
                                    std::pair{"crew.elec_lic", "electrical licence"}}) {
        const auto until = job.facts().date(key);
        if (!until) answer.missing_facts.emplace_back(key);
        else if (*until < job.today) faults.push_back(fmt::format("the {} ran out on {}", name, *until));
    }
    const auto lead = job.facts().word("crew.lead");
    const auto members = job.facts().word("crew.members");
    if (!lead) answer.missing_facts.emplace_back("crew.lead");
    if (!members) answer.missing_facts.emplace_back("crew.members");
    if (lead && members) {
        // The lead may be listed among the members again.
        const bool again = members->find(*lead) != std::string::npos;
        const int people = people_in(*members) + (again ? 0 : people_in(*lead));
        if (people < 2) faults.emplace_back("only one person is named; nobody works on a roof alone");
    }
    if (!faults.empty()) {
        answer.outcome = Outcome::DoesNotConform;
        answer.why = "Not ready to begin: " + joined(faults) + ".";
    } else if (!answer.missing_facts.empty() && erased_after_signing(job, answer.missing_facts)) {
        // Earlier versions locked licences with the words of the customer.
        answer.missing_facts.clear();
        answer.outcome = Outcome::Conforms;
        answer.why = "The licences were erased with the customer; the crew could not have signed without them.";
    } else if (!answer.missing_facts.empty()) {
        answer.why = "Facts about the crew are missing.";
    } else {
        answer.outcome = Outcome::Conforms;
        answer.why = fmt::format("Height card and licences are valid on {} and two people at least are named.", job.today);
    }
    return answer;
}

RuleAnswer instruments_due(const JobInHand& job) {
    std::map<std::string, std::vector<std::string>> unnamed;  // titles of checks, by the type that was wanted
    std::set<std::string> unregistered;
    std::set<std::string> faults;
    std::set<std::string> fine;
    int readings = 0;
    for (const auto& check : job.list->checks) {
        if (!check.instrument || !wants_calibration(job, *check.instrument)) continue;
        const auto* state = job.state().check(check.id.text);
        if (state == nullptr) continue;
        bool named = true;
        for (const auto& [place, hash] : state->latest) {
            const auto* reading = state->find(hash);
            if (reading == nullptr || check.part_named(place) != nullptr) continue;
            ++readings;
            const std::string& id = reading->taken.instrument;
            const auto* instrument = instrument_named(job, id);
            if (id.empty()) {
                named = false;
            } else if (instrument == nullptr) {
                unregistered.insert(id);
            } else if (const auto why = objection(job, *instrument, day_of(reading->taken.read_at)); !why.empty()) {
                faults.insert(why);
            } else {
                fine.insert(id);
            }
        }
        if (!named) unnamed[*check.instrument].push_back("“" + check.title + "”");
    }
    if (readings == 0) {
        for (const auto& instrument : job.instruments()) {
            const auto why = objection(job, instrument, job.today);
            if (why.empty()) fine.insert(instrument.card.id);
            else faults.insert(why);
        }
        if (job.instruments().empty())
            return {Outcome::Open, "No instrument is registered for this job yet.", {"inst"}};
    }
    std::vector<std::string> sentences;
    for (const auto& [type, titles] : unnamed)
        sentences.push_back(fmt::format("No {} is named at {}: take the reading again and name the one you use.", type,
                                        first_of(titles, ", ")));
    if (!unregistered.empty())
        sentences.push_back(fmt::format("Not registered: {}. Register it, or read again with an instrument that is.",
                                        joined({unregistered.begin(), unregistered.end()})));
    if (!faults.empty())
        sentences.push_back(fmt::format("{} another instrument: {}.", readings == 0 ? "Take" : "Read again with",
                                        joined({faults.begin(), faults.end()})));
    if (!sentences.empty()) return {Outcome::DoesNotConform, fmt::format("{}", fmt::join(sentences, " ")), {}};
    return {Outcome::Conforms, "In date: " + joined({fine.begin(), fine.end()}) + ".", {}};
}

RuleAnswer kit_ready(const JobInHand& job) {
    RuleAnswer answer;
    std::vector<std::string> faults;
    const auto day = std::max(job.today, job.facts().date(planned_day).value_or(job.today));
    const auto week_on = day_after(day, 7).value_or(day);
    for (const auto& instrument : job.instruments())
        if (const auto why = objection(job, instrument, week_on); !why.empty()) faults.push_back(why);
    if (job.instruments().empty()) answer.missing_facts.emplace_back("inst");
    const auto inspected = job.facts().date("crew.fall_gear");
    if (!inspected) answer.missing_facts.emplace_back("crew.fall_gear");
    else if (days_between(*inspected, day).value_or(0) > 365)
        faults.push_back(fmt::format("the fall gear was last inspected on {}", *inspected));
    if (!faults.empty()) {
        answer.outcome = Outcome::DoesNotConform;
        answer.why = "Swap before the van leaves: " + joined(faults) + ".";
    } else if (!answer.missing_facts.empty()) {
        answer.why = "Not known yet: " + joined(answer.missing_facts) + ".";
    } else {
        answer.outcome = Outcome::Conforms;
        answer.why = "Instruments are in date for a week after the day of the job at least and the fall gear was inspected within a year.";
    }
    return answer;
}

std::vector<record::CheckStanding> by_title(const JobInHand& job, std::vector<record::CheckStanding> checks) {
    for (auto& check : checks)
        if (const auto* known = job.list->find(checklist::CheckId{check.id})) check.id = known->title;
    return checks;
}

Problem in_the_way_of_signing(const JobInHand& job, const std::vector<record::CheckStanding>& checks) {
    std::vector<std::string> titles;
    for (const auto& blocker : record::blockers(by_title(job, checks))) titles.push_back(blocker.check);
    auto what = fmt::format("{} in the way of signing: {}",
                            titles.size() == 1 ? "1 check stands" : fmt::format("{} checks stand", titles.size()),
                            first_of(titles, "; "));
    what += what.ends_with(" more") ? "; the sign-off screen lists them." : ".";
    return {.what = std::move(what), .where = "job " + job.state().number,
            .what_to_do = "Take each reading, record what was corrected, or defer it with an owner and a date.",
            .kind = ProblemKind::Refused};
}

RuleAnswer open_items(const std::vector<record::CheckStanding>& checks) {
    const auto list = record::blockers(checks);
    if (list.empty()) {
        const auto restricted = record::restrictions(checks);
        return {Outcome::Conforms,
                restricted.empty() ? "Nothing is open."
                                   : "Nothing is open but " + joined(restricted) + ", which restricts the handover.",
                {}};
    }
    std::vector<std::string> names;
    for (const auto& blocker : list)
        if (names.size() < 6 && std::find(names.begin(), names.end(), blocker.check) == names.end())
            names.push_back(blocker.check);
    std::set<std::string> all;
    for (const auto& blocker : list) all.insert(blocker.check);
    std::string why = fmt::format("Still open: {}", joined(names));
    if (all.size() > names.size()) why += fmt::format(" and {} more", all.size() - names.size());
    return {Outcome::Open, why + ".", {}};
}

SurveyFindings survey_findings(const std::vector<record::CheckStanding>& checks) {
    SurveyFindings found;
    for (const auto& check : checks) {
        if (!check.applies || check.outcome == Outcome::Conforms) continue;
        if (check.conceded) found.conditions.push_back(check.id);
        else if (check.outcome == Outcome::Open) found.open.push_back(check.id);
        else if (check.hold) found.blocking.push_back(check.id);
        else found.conditions.push_back(check.id);
    }
    return found;
}

RuleAnswer survey_verdict(const std::vector<record::CheckStanding>& checks) {
    const auto found = survey_findings(checks);
    if (!found.open.empty())
        return {Outcome::Open, fmt::format("The survey is not finished: {} is open.", found.open.front()), {}};
    if (!found.blocking.empty())
        return {Outcome::DoesNotConform, "Not suited, because of " + joined(found.blocking) + ".", {}};
    if (!found.conditions.empty())
        return {Outcome::Conforms, "Suited with conditions: " + joined(found.conditions) + ".", {}};
    return {Outcome::Conforms, "Suited.", {}};
}

}  // namespace wm::desk
