#include "handover/survey_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "handover/plain_words.hpp"

namespace wm::handover {

namespace {

struct Plain {
    std::string_view check_id, found, cure;
};

/// Beside the checks of the survey: what a customer needs to know of each. Held to the list by a test.
constexpr std::array plain{
    Plain{"survey-consent", "The owner has not said yes to the work.", "Send us the yes of the owner in writing."},
    Plain{"tank-size-fit", "The planned tank does not fit the number of people in the house.", "We plan the next size up or down."},
    Plain{"access-safe", "There is no safe place for a ladder.",
          "Bare wires must be made safe by their owner. Or a firm must put up a firm stand first."},
    Plain{"asbestos-suspect", "The roof may hold asbestos. Its dust makes people ill.", "Leave it alone. A firm with a licence must test it first."},
    Plain{"sun-azimuth", "This side of the roof looks too far away from the midday sun.",
          "We look for a better side. Or we plan a larger set, if you agree in writing."},
    Plain{"sun-pitch", "This roof is too flat or too steep.", "We plan a frame that leans as it should."},
    Plain{"sun-shade", "Too much shade falls on this place.", "We move the set. Or a tree is cut, if its owner agrees."},
    Plain{"roof-free-area", "There is too little free room around the set.", "We plan a smaller set, or use another side of the roof."},
    Plain{"roof-covering-fit", "There is no safe way to fix the set to this kind of roof.",
          "We plan a frame on the ground or on a wall. Or we ask an engineer."},
    Plain{"roof-soundness", "The wood or stone of the roof is not sound.", "Have the roof mended first. Then we look at it again."},
    Plain{"roof-members", "The beams of the roof lie too far apart.", "We add strong wood between them."},
    Plain{"roof-load", "Nobody has shown that the roof can hold the full tank.",
          "An engineer must say in writing what it can hold. Or the set goes on the ground."},
    Plain{"load-down", "Nobody has shown that the roof can hold the set in wind and snow.",
          "An engineer must say in writing what it can hold. Or the set goes on the ground."},
    Plain{"wind-exposure", "There are too few strong points to hold the set in a storm.",
          "We look for more strong points or for another place. An engineer can help."},
    Plain{"wind-tipping", "A storm could tip the tank over here.", "We plan more bolts, wider feet or a lower tank."},
    Plain{"frost-fit", "The planned kind of set can burst in frost.", "We plan a kind that stands frost."},
    Plain{"water-supply", "The water comes too weak or too strong.", "We plan a part that holds it back, or another kind of set."},
    Plain{"water-quality", "The water is too hard or too salty for the planned set.", "We plan another kind of set or tank."},
    Plain{"heater-fit", "Your heater cannot be used with warm water from the sun.", "A new heater has to come first."},
    Plain{"heater-inlet-limit", "The sun can make the water too hot for your heater.",
          "We plan a part that adds cold water. Or you choose a new heater."},
    Plain{"heater-relief", "Your heater has no way to let hot water out safely. It could burst.",
          "Switch it off now. A person with a licence must put it right the same day."},
    Plain{"heater-vented", "Your heater cannot stand the pressure of the planned set. It could burst.",
          "We plan a new heater, or another kind of set."},
    Plain{"elec-ready", "The wires and switches of your heater are not safe.", "An electrician with a licence must put them right first."},
    Plain{"pipe-route", "The pipes are too long or cannot rise all the way.", "We look for a better place for the tank."},
    Plain{"discharge-route", "Very hot water could come out where people walk.", "We must find a safe way out for it first."},
    Plain{"lift-plan", "There is no safe plan to lift the set to the roof.", "We hire a lift."},
};

const Plain* plain_for(std::string_view check_id) {
    const auto found = std::find_if(plain.begin(), plain.end(), [&](const Plain& each) { return each.check_id == check_id; });
    return found == plain.end() ? nullptr : &*found;
}

/// Behind a colon. Only for sentences of ours: those of a list may begin with a name.
std::string behind_colon(std::string sentence, bool ours) {
    if (ours && !sentence.empty() && sentence.front() >= 'A' && sentence.front() <= 'Z') sentence.front() = static_cast<char>(sentence.front() - 'A' + 'a');
    return sentence;
}

FoundAndCure told(const SurveyFinding& finding) {
    const auto* ours = plain_for(finding.check_id);
    const std::string found = ours ? std::string{ours->found} : finding.title + ".";
    const std::string cure = ours ? std::string{ours->cure} : finding.on_fail;
    switch (finding.how) {
        case FoundHow::Wrong: return {found, cure};
        case FoundHow::Unsure: 
            return {"We could not tell for sure. It may be so: " + behind_colon(found, ours != nullptr),
                    "We measure it again. If it is so: " + behind_colon(cure, ours != nullptr)};
        case FoundHow::PutOff:
            return {"We could not look at this yet. The question is: " + found,
                    finding.until.empty() ? "We look at it later." : "We look at it by " + finding.until + "."};
        case FoundHow::Accepted: return {found, "It was agreed in writing to leave it so."};
    }
    return {found, cure};
}

std::vector<FoundAndCure> told(const std::vector<SurveyFinding>& findings) {
    std::vector<FoundAndCure> all;
    for (const auto& finding : findings) all.push_back(told(finding));
    return all;
}

std::string headline_of(const SurveyReport& report) {
    if (report.practice) return "Practice: no real survey";
    switch (report.suited) {
        case Suited::Yes: return "Suited";
        case Suited::WithConditions: return "Suited, with conditions";
        case Suited::No: return "Not suited as it is now";
    }
    return "";
}

std::vector<std::string> verdict_of(const SurveyReport& report) {
    if (report.practice) return {"This is a practice paper. It says nothing of a real house."};
    std::vector<std::string> all;
    switch (report.suited) {
        case Suited::Yes: all = {"Your house suits a solar water heater.", "Nothing stands in the way of a date."}; break;
        case Suited::WithConditions:
            all = {"Your house suits a solar water heater, if the points below are kept.", "A date can be set."};
            break;
        case Suited::No:
            all = {"We may not set a date yet.", "The points below stand in the way. Each says what would cure it."};
            break;
    }
    if (report.surveyor.empty()) all.emplace_back("DRAFT: nobody has signed this yet.");
    return all;
}

std::vector<std::string> next_of(const SurveyReport& report) {
    std::vector<std::string> all;
    switch (report.suited) {
        case Suited::Yes: all.emplace_back("We put the parts together and agree on a day with you."); break;
        case Suited::WithConditions: all.emplace_back("We plan the points above into the work. Then we agree on a day with you."); break;
        case Suited::No: all.emplace_back("Call us when a point is cured. We look at it again and write to you."); break;
    }
    all.emplace_back("The rules of your town come first. Ask there if you need leave to build.");
    all.emplace_back("This paper is no offer and no bill. Nothing is fitted until you say yes.");
    return all;
}

bool stands_in_way(const SurveyReport& report, std::string_view check_id) {
    return std::any_of(report.blocking.begin(), report.blocking.end(),
                       [&](const auto& finding) { return finding.check_id == check_id; });
}

std::vector<SafetySentence> cautions_of(const SurveyReport& report) {
    std::vector<SafetySentence> all;
    const auto where = [&](std::string_view check_id, Signal signal, std::string words) {
        if (stands_in_way(report, check_id)) all.push_back({signal, std::move(words)});
    };
    where("heater-relief", Signal::Danger, "Leave the heater off until it is put right. It could burst.");
    where("heater-fit", Signal::Danger, "Do not work on the heater yourself. It may burn or shock you.");
    where("elec-ready", Signal::Danger, "Touch no bare wire at the heater. A shock can kill.");
    where("asbestos-suspect", Signal::Danger, "Do not drill, brush or break this roof. Its dust can kill years later.");
    where("access-safe", Signal::Danger, "Keep ladders and poles far from bare wires. They can kill.");
    all.push_back({Signal::Danger, "Do not go on the roof to look. Falls kill."});
    where("roof-soundness", Signal::Warning, "Put nothing heavy on this roof. It may give way.");
    all.push_back({Signal::Warning, "Keep your heater as hot as it is set. Germs grow in lukewarm water."});
    if (report.suited == Suited::No) all.push_back({Signal::Notice, "Buy no parts yet. They may not fit."});
    return all;
}

std::vector<std::string> sun_of(const SurveyReport& report) {
    std::vector<std::string> all;
    if (report.sun_band.empty()) {
        all.emplace_back("We cannot say yet what the sun may bring. The table says what we still need to know.");
    } else {
        all.push_back("In a year the sun may bring you " + report.sun_band + " of heat.");
        all.push_back("Your hot water needs " + report.need_band + ", by how much you use.");
        all.emplace_back("A kWh is what your meter counts.");
        all.emplace_back("This is a guess with care, and no promise. The weather and your use decide.");
    }
    if (report.of_best_plane) {
        if (*report.of_best_plane >= 98) all.emplace_back("No side of a roof here would get much more sun than this one.");
        else all.push_back(fmt::format("This side gets {} of each 100 parts of sun that the best side would get.", *report.of_best_plane));
    }
    return all;
}

std::vector<std::string> shade_of(const SurveyReport& report) {
    std::vector<std::string> all;
    if (!report.shade.empty()) {
        all.emplace_back("The chart shows what hills, trees and houses take of the direct sun in each month. It is in the figures above.");
    } else if (report.shade_read) {
        all.push_back(*report.shade_read < 1
                          ? "We saw no shade here in the month with the most shade."
                          : fmt::format("In the month with the most shade, {} of 100 parts of this place lie in it.", *report.shade_read));
        all.emplace_back("The low figure above takes that off in every month.");
    } else {
        all.emplace_back("Shade is not in the figures above. Nobody has looked at it yet.");
    }
    all.emplace_back("Trees grow, so shade can grow too.");
    return all;
}

std::vector<GlossaryTerm> terms_of(const SurveyReport& report, const SurveyWords& words) {
    std::string all;
    const auto add = [&](const std::string& text) { all += text + " . "; };
    for (const auto* list : {&words.verdict, &words.next, &words.sun, &words.shade, &words.checking})
        for (const auto& sentence : *list) add(sentence);
    for (const auto* list : {&words.blocking, &words.conditions})
        for (const auto& item : *list) add(item.found + " . " + item.cure);
    for (const auto& caution : words.cautions) add(caution.words);
    for (const auto* list : {&report.plane, &report.expectation.assumptions})
        for (const auto& line : *list) add(line.label + " . " + line.text);
    for (const auto& sentence : report.expectation.left_out) add(sentence);
    return trade_words_in(all);
}

}  // namespace

std::string_view in_words(Suited suited) {
    switch (suited) {
        case Suited::Yes: return "suited";
        case Suited::WithConditions: return "suited with conditions";
        case Suited::No: return "not suited";
    }
    return "";
}

bool has_survey_words(std::string_view check_id) { return plain_for(check_id) != nullptr; }

SurveyWords survey_words(const SurveyReport& report) {
    SurveyWords words;
    words.headline = headline_of(report);
    words.verdict = verdict_of(report);
    words.blocking = told(report.blocking);
    words.conditions = told(report.conditions);
    words.next = next_of(report);
    words.cautions = cautions_of(report);
    words.sun = sun_of(report);
    words.shade = shade_of(report);
    if (!report.fingerprint.empty()) words.checking = {"A PDF reader must show a valid seal with the number below."};
    words.terms = terms_of(report, words);
    return words;
}

}  // namespace wm::handover
