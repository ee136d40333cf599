// Opening a job and stating facts about it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <memory>

#include "checklist/facts.hpp"
#include "desk/day_plan.hpp"
#include "desk/desk.hpp"
#include "desk/judged.hpp"
#include "desk/permission.hpp"
#include "desk/pick_list.hpp"
#include "digest/hash.hpp"
#include "digest/text.hpp"
#include "store/pins.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

bool is_coordinate(std::string_view key) { return key == "site.latitude" || key == "site.longitude"; }

// A place finer than a tenth of a degree points at a house.
bool is_fine_coordinate(const checklist::FactValue& fact) {
    if (!fact.number) return true;
    const double tenths = fact.number->si * 180.0 / 3.14159265358979323846 * 10.0;
    return std::abs(tenths - std::round(tenths)) > 1e-6;
}

/// The day and its weather: the sun of the commissioning says nothing of what the set shall do in the service a year later.
bool is_of_one_visit(std::string_view key) { return key == planned_day || key.starts_with("wx."); }

record::FactStated stated(const checklist::FactValue& fact) {
    const auto* spec = checklist::fact_named(fact.key);
    const std::string text = digest::composed(fact.text);
    const bool locked = is_coordinate(fact.key) ? is_fine_coordinate(fact) : spec != nullptr && spec->personal;
    return {fact.key, locked ? record::Words{record::Personal{"", text}} : record::Words{text}};
}

/// What is known of the crew is not the customer's: it stays when the customer is erased.
Result<void> lock_crew_apart(store::Journal& journal, record::FactsStated& facts) {
    for (auto& fact : facts.facts) {
        const auto* words = std::get_if<record::Personal>(&fact.value);
        if (words == nullptr || !words->text || !fact.key.starts_with("crew.")) continue;
        auto locked = journal.said_by_house(*words->text);
        if (!locked) return refused(locked.error());
        fact.value = std::move(*locked);
    }
    return {};
}

std::string said(checklist::PreUse preuse) {
    switch (preuse) {
        case checklist::PreUse::Passed: return "passed";
        case checklist::PreUse::Failed: return "failed";
        case checklist::PreUse::NotSaid: return "";
    }
    return "";
}

record::InstrumentRegistered registered(const checklist::InstrumentInUse& instrument) {
    const auto& card = instrument.card;
    return {.id = card.id,
            .type = card.type,
            .range = instrument.range,
            .resolution = card.resolution,
            .uncertainty = card.expanded_uncertainty,
            .calibrated_on = card.calibrated_on.value_or(""),
            .due = card.calibration_due.value_or(""),
            .certificate = card.certificate,
            .as_found = card.as_found,
            .pre_use_check = said(instrument.preuse)};
}

/// The list to try the tool with: no job of it is a real one.
constexpr std::string_view tutorial = "tutorial";

std::string lead_of(const checklist::Facts& facts) { return facts.word("crew.lead").value_or("crew"); }

}  // namespace

Result<std::string> Desk::carry_out(const OpenJob& intent) {
    if (library_->checklist_named(intent.checklist) == nullptr)
        return refused({fmt::format("There is no checklist \"{}\".", intent.checklist), "job new",
                        "Use survey, kit, commissioning, service or tutorial.", ProblemKind::WrongUse});
    auto file = checklist::load_facts(intent.facts_text, intent.facts_name);
    if (!file) return tl::unexpected(file.error());

    std::string customer;
    record::FactsStated facts;
    std::vector<record::Draft> drafts;
    std::vector<record::InstrumentRegistered> instruments;
    if (!intent.after.empty()) {
        const auto before = in_hand(intent.after);
        if (!before) return tl::unexpected(before.error());
        customer = before->state().opened->customer;
        if (file->facts.knows(planned_day))
            if (auto may = may_have_a_day(*before, intent.checklist); !may) return tl::unexpected(may.error());
        for (const auto& [key, value] : before->facts().all())
            if (!file->facts.knows(key) && !is_of_one_visit(key)) facts.facts.push_back(stated(value));
        if (file->instruments.empty())
            for (const auto& [id, card] : before->state().instruments) instruments.push_back(card);
    }
    for (const auto& [key, value] : file->facts.all()) facts.facts.push_back(stated(value));
    for (const auto& instrument : file->instruments) instruments.push_back(registered(instrument));
    if (customer.empty()) {
        auto made = journal_.new_customer();
        if (!made) return tl::unexpected(made.error());
        customer = std::move(*made);
    }

    const auto pin = pin_text(setup_.library, intent.checklist);
    if (!pin) return tl::unexpected(pin.error());
    const auto hash = store::keep_pin(setup_.data, *pin, journal_.disk());
    if (!hash) return tl::unexpected(hash.error());

    const auto jobs = journal_.jobs();
    if (!jobs) return tl::unexpected(jobs.error());
    std::string prefix = journal_.device().substr(0, 4);
    std::transform(prefix.begin(), prefix.end(), prefix.begin(),
                   [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 32) : c; });
    const auto mine = std::count_if(jobs->begin(), jobs->end(), [&](const store::JobLine& line) {
        return line.job.starts_with("J-" + prefix + "-");
    });
    const std::string number = fmt::format("J-{}-{:04}", prefix, mine + 1);

    const auto* list = library_->checklist_named(intent.checklist);
    facts.by = author(setup_, lead_of(file->facts));
    if (auto done = lock_crew_apart(journal_, facts); !done) return tl::unexpected(done.error());
    drafts.push_back({number, record::JobOpened{.number = number,
                                                .id = digest::to_hex(setup_.random(16)),
                                                .customer = customer,
                                                .kind = intent.checklist,
                                                .checklist = intent.checklist,
                                                .checklist_version = list->version,
                                                .checklist_hash = *hash,
                                                .after_job = intent.after,
                                                .practice = intent.practice || intent.checklist == tutorial}});
    if (!facts.facts.empty()) drafts.push_back({number, std::move(facts)});
    for (auto& card : instruments) drafts.push_back({number, std::move(card)});
    if (!intent.note.empty())
        drafts.push_back({number, record::NoteMade{.text = {"", digest::composed(intent.note)}, .check = "", .by = author(setup_, "office")}});
    const std::string before = journal_.head().hash;
    auto written = journal_.append({.wall_ms = setup_.now().wall_ms, .customer = customer, .drafts = std::move(drafts)});
    if (!written) return tl::unexpected(written.error());
    note_written(number, before);
    // Alone these entries do not say that their times are given by hand.
    if (setup_.time_source == record::TimeSource::Clock)
        states_[number] = std::make_shared<record::JobState>(record::folded(number, *written));
    return number;
}

Result<std::string> Desk::carry_out(const OpenRevisit& intent) {
    const auto rows = job_rows();
    if (!rows) return tl::unexpected(rows.error());
    // Asked twice, by two taps or two lists that name the same house, it is still one visit.
    for (const auto& row : *rows)
        if (row.after == intent.job && row.kind == "service" && row.state == "open") return row.job;
    return carry_out(OpenJob{.checklist = "service", .facts_text = "", .facts_name = "revisit", .after = intent.job,
                             .practice = false, .note = intent.why});
}

namespace {

// Readings whose judgement a changed fact moves, as entries of the same transaction.
std::vector<record::Draft> judged_again(const JobInHand& before, const JobInHand& after, const std::string& because) {
    std::vector<record::Draft> drafts;
    // An instrument that has fallen due since was in date on the day it was read.
    std::map<std::string, std::pair<JobInHand, std::unique_ptr<Assessment>>> days;
    const auto on_day = [&](const std::string& day) -> Assessment& {
        auto& [job, assessment] = days[day];
        if (!assessment) {
            job = after;
            job.today = day;
            assessment = std::make_unique<Assessment>(job);
        }
        return *assessment;
    };
    for (const auto& check : after.list->checks) {
        const auto* state = before.state().check(check.id.text);
        if (state == nullptr) continue;
        for (const auto& input : latest_readings(after, check)) {
            const auto* reading = state->standing_at(input.place);
            if (reading == nullptr || is_set_aside(*reading)) continue;
            auto& assessment = on_day(day_of(reading->taken.read_at));
            const auto judged = judge_place(assessment, check, input);
            if (!judged) continue;
            auto now = recorded(assessment, check, *judged, {});
            const auto& was = reading->judged();
            if (now.place_outcome == was.place_outcome && now.low == was.low && now.high == was.high &&
                now.places_needed == was.places_needed)
                continue;
            drafts.push_back({after.state().number, record::Rejudged{.check = check.id.text,
                                                                   .place = input.place,
                                                                   .reading = reading->origin.entry,
                                                                   .judged = std::move(now),
                                                                   .because = because}});
        }
    }
    return drafts;
}

}  // namespace

Result<void> Desk::carry_out(const StateFacts& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    if (intent.facts.empty())
        return refused({"No fact was given.", "job facts", "Write --set name=value, for example --set site.t_min_c=-13.",
                        ProblemKind::WrongUse});
    const bool plans = std::any_of(intent.facts.begin(), intent.facts.end(), [](const auto& fact) { return fact.first == planned_day; });
    if (auto may = plans ? may_have_a_day(*hand, hand->list->name) : Result<void>{}; !may) return tl::unexpected(may.error());
    record::FactsStated facts;
    facts.by = author(setup_, lead_of(hand->facts()));
    JobInHand after = *hand;
    auto read = std::make_shared<ReadFacts>(*hand->read);
    std::optional<PickListView> parts;
    for (const auto& [key, text] : intent.facts) {
        if (is_tick(key)) {
            if (!parts) {
                auto list = pick_list(*this, intent.job);
                if (!list) return tl::unexpected(list.error());
                parts = std::move(*list);
            }
            auto ticks = stated_tick(*parts, key, text);
            if (!ticks) return tl::unexpected(ticks.error());
            std::move(ticks->begin(), ticks->end(), std::back_inserter(facts.facts));
            continue;
        }
        auto value = checklist::read_fact(key, text);
        if (!value) return tl::unexpected(value.error());
        facts.facts.push_back(stated(*value));
        read->facts.set(std::move(*value));
    }
    after.read = std::move(read);
    if (auto done = lock_crew_apart(journal_, facts); !done) return tl::unexpected(done.error());
    std::string because = "facts stated:";
    for (const auto& fact : facts.facts) because += " " + fact.key;
    auto drafts = judged_again(*hand, after, because);
    drafts.insert(drafts.begin(), {intent.job, std::move(facts)});
    auto written = append(*hand, std::move(drafts));
    if (!written) return tl::unexpected(written.error());
    return {};
}

namespace {

/// The card as a facts file would state it, so that it is read and refused in one way.
std::string as_facts(const RegisterInstrument& card) {
    std::string text = "[[inst]]\n";
    const auto add = [&](std::string_view key, const std::string& value, std::string_view mark) {
        if (value.empty()) return;
        std::string quoted;
        for (const char sign : value) {
            if (sign == '"' || sign == '\\') quoted += '\\';
            quoted += sign == '\n' || sign == '\r' ? ' ' : sign;
        }
        text += fmt::format("{} = {}{}{}\n", key, mark, quoted, mark);
    };
    add("id", card.id, "\"");
    add("type", card.type, "\"");
    add("res", card.resolution, "\"");
    add("u", card.uncertainty, "\"");
    add("cal_date", card.calibrated_on, "");
    add("cal_due", card.due, "");
    add("cert", card.certificate, "\"");
    return text;
}

}  // namespace

Result<void> Desk::carry_out(const RegisterInstrument& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    if (const auto open = still_open(*hand); !open) return tl::unexpected(open.error());
    const std::string where = fmt::format("job {}, instrument {}", intent.job, intent.id);
    if (intent.id.empty())
        return refused({"The instrument has no name.", where, "Give it the mark that stands on it, as TW-1.", ProblemKind::Unreadable});
    std::optional<record::InstrumentRegistered> card;
    if (intent.type.empty()) {
        const auto states = all_states();
        if (!states) return tl::unexpected(states.error());
        std::string newest;
        for (const auto& state : *states) {
            const auto found = state.instruments.find(intent.id);
            if (found == state.instruments.end() || state.opened_at < newest) continue;
            newest = state.opened_at;
            card = found->second;
        }
        if (!card)
            return refused({fmt::format("No job on this device knows the instrument \"{}\".", intent.id), where,
                            "Say its type, resolution, uncertainty and the days of its calibration.", ProblemKind::Unreadable});
        card->pre_use_check = "";
    } else {
        const auto known = std::any_of(library_->instrument_types.begin(), library_->instrument_types.end(),
                                       [&](const checklist::InstrumentType& type) { return type.id == intent.type; });
        if (!known)
            return refused({fmt::format("\"{}\" is no type of instrument.", intent.type), where,
                            "Use a type that the checks ask for, as witnessmark parts lists them.", ProblemKind::Unreadable});
        for (const auto& figure : {intent.resolution, intent.uncertainty})
            if (const auto read = units::read_any_amount(figure, where); !figure.empty() && !read) return tl::unexpected(read.error());
        const auto file = checklist::load_facts(as_facts(intent), "the instrument");
        if (!file) return tl::unexpected(file.error());
        card = registered(file->instruments.front());
    }
    JobInHand after = *hand;
    auto state = std::make_shared<record::JobState>(hand->state());
    state->instruments[card->id] = *card;
    after.read = facts_read(*state);
    after.folded = std::move(state);
    auto drafts = judged_again(*hand, after, "instrument registered: " + card->id);
    drafts.insert(drafts.begin(), {intent.job, std::move(*card)});
    auto written = append(*hand, std::move(drafts));
    if (!written) return tl::unexpected(written.error());
    return {};
}

}  // namespace wm::desk
