// Journals made in memory from a seed: what a crew may write down in any order, right and wrong, with
// corrections, deferrals, concessions and undos. Nothing is stored, so that thousands of them are cheap.
#pragma once

#include <random>

#include "checklist/facts_document.hpp"
#include "desk/desk.hpp"
#include "desk/judged.hpp"
#include "desk/report_of.hpp"
#include "desk/testing.hpp"
#include "record/clock.hpp"

namespace wm::desk::testing {

inline std::shared_ptr<const checklist::Library> shipped_library() {
    static const auto library = [] {
        auto read = read_library(shipped_texts());
        REQUIRE(read);
        return *read;
    }();
    return library;
}

/// The same choices on every machine, which std::uniform_int_distribution does not promise.
class Chance {
public:
    explicit Chance(std::uint64_t seed) : engine_{seed} {}
    [[nodiscard]] std::size_t below(std::size_t count) { return static_cast<std::size_t>(engine_() % count); }
    [[nodiscard]] bool one_in(std::size_t count) { return below(count) == 0; }
    template <class T>
    [[nodiscard]] const T& of(const std::vector<T>& all) { return all[below(all.size())]; }

private:
    std::mt19937_64 engine_;
};

/// A house as no two are: kind, feed, water, roof, people, and now and then a fact that nobody knows.
inline std::string random_facts(Chance& chance) {
    static const std::vector<std::string> names = {
        "Ansa Velmorrin", "Wilhelmina-Theodosia Quellingham-Osterrath of the Upper Terraces", "Ó", "Ümit Ñandú Żółć",
        "Maximilienne Featherstonehaughworthington, Bartholomew Featherstonehaughworthington and their five children"};
    std::string text;
    const auto put = [&](const std::string& key, const std::string& value) { text += key + " = " + value + "\n"; };
    const bool direct = chance.one_in(4);
    std::string gone;
    static const std::vector<std::string> may_miss = {"customer.household", "sys.az_target", "sys.relief_kpa",
                                                      "heater.power_w", "site.latitude", "house.taps", "sys.ua_wk"};
    if (chance.one_in(4)) gone = chance.of(may_miss);
    std::string lines = house_facts();
    const auto instead = [&](const std::string& key, const std::string& value) {
        const auto at = lines.find("\n" + key + " = ");
        if (at == std::string::npos) return;
        const auto end = lines.find('\n', at + 1);
        lines.replace(at + 1, end - at - 1, key == gone ? "" : key + " = " + value);
    };
    instead("customer.name", "\"" + chance.of(names) + "\"");
    instead("customer.vulnerable", chance.one_in(3) ? "true" : "false");
    instead("customer.household", std::to_string(1 + chance.below(9)));
    instead("site.address", "\"" + chance.of(names) + ", Dovetail Steps " + std::to_string(chance.below(900)) + "\"");
    instead("sys.kind", direct ? "\"direct\"" : "\"indirect\"");
    if (direct) instead("site.frost_class", "\"none\"");
    instead("sys.feed", chance.one_in(5) ? "\"vented\"" : "\"mains-pressure\"");
    instead("sys.geometry", chance.one_in(3) ? "\"raised\"" : "\"close-coupled\"");
    instead("sys.tank_material", chance.one_in(2) ? "\"stainless\"" : "\"enamelled steel\"");
    instead("sys.az_target", std::to_string(chance.below(360)));
    instead("sys.coll_m2", chance.one_in(2) ? "4.25" : "2");
    instead("sys.tank_l", chance.one_in(2) ? "300" : "150");
    instead("sys.controller", chance.one_in(2) ? "\"temperature-and-timer\"" : "\"none\"");
    instead("house.taps", std::to_string(1 + chance.below(4)));
    instead("crew.lead", "\"" + chance.of(names) + "\"");
    instead(gone, "");
    if (chance.one_in(2)) put("warranty.until", "2031-11-25");
    if (chance.one_in(2)) put("serial.tank", "\"ST-" + std::to_string(chance.below(100000)) + "\"");
    if (chance.one_in(2)) put("serial.collector", "\"SC-" + std::string(chance.one_in(9) ? 40 : 6, '7') + "\"");
    return lines + text + tools();
}

/// One job whose entries are folded as they are made.
class PaperJournal {
public:
    PaperJournal(const std::string& facts_text, const std::string& checklist) {
        hand_.library = shipped_library();
        hand_.list = hand_.library->checklist_named(checklist);
        REQUIRE(hand_.list != nullptr);
        hand_.today = "2026-11-25";
        const auto file = checklist::load_facts(facts_text, "facts.toml");
        REQUIRE_MESSAGE(file, (file ? "" : told(file.error())));
        state_->number = "J-PAPER-0001";
        hand_.folded = state_;
        write(record::JobOpened{.number = "J-PAPER-0001", .id = std::string(32, '1'), .customer = "c", .kind = checklist,
                                .checklist = checklist, .checklist_version = hand_.list->version,
                                .checklist_hash = std::string(64, 'a'), .after_job = "", .practice = false});
        record::FactsStated facts;
        for (const auto& [key, value] : file->facts.all()) facts.facts.push_back({key, record::Words{value.text}});
        write(std::move(facts));
        for (const auto& tool : file->instruments)
            write(record::InstrumentRegistered{.id = tool.card.id, .type = tool.card.type, .range = tool.range,
                                               .resolution = tool.card.resolution,
                                               .uncertainty = tool.card.expanded_uncertainty,
                                               .calibrated_on = tool.card.calibrated_on.value_or(""),
                                               .due = tool.card.calibration_due.value_or(""),
                                               .certificate = tool.card.certificate, .as_found = tool.card.as_found,
                                               .pre_use_check = "passed"});
        hand_.read = facts_read(hand_.state());
    }

    [[nodiscard]] const JobInHand& hand() const { return hand_; }
    [[nodiscard]] const std::vector<record::Written>& entries() const { return entries_; }

    [[nodiscard]] CheckView look(const checklist::Check& check) const {
        Assessment assessment{hand_};
        return check_view(assessment, check);
    }
    [[nodiscard]] JobView view() const { return view_of(hand_, {1795579200000LL, 300}, std::string(64, 'c')); }

    [[nodiscard]] handover::ReportInput report() const {
        ReportSurroundings around{.company = "Witnessmark", .contact = "555-0100", .fingerprint = std::string(64, 'f'),
                                  .fingerprint_published = "on the notice board", .date = "2026-11-25",
                                  .written = {2026, 11, 25, 15, 0, 0, 300}, .heads = {}, .files = {}};
        auto input = report_input(hand_, view(), around);
        input.page_one.paper_proof = "proof";
        return input;
    }

    /// False if the text is no answer to this check. `corrects` makes it the reading after a correction.
    bool read(const checklist::Check& check, const std::string& place, const std::string& text,
              const std::string& corrects = "", const std::string& done = "", bool photo = true) {
        Assessment assessment{hand_};
        const auto* part = check.part_named(place);
        const std::string type = part != nullptr ? part->instrument.value_or("") : check.instrument.value_or("");
        const auto judged = judge_place(assessment, check,
                                        {.place = place, .text = text,
                                         .instrument = type.empty() ? std::nullopt : instrument_for(hand_, type, ""),
                                         .photo = photo ? checklist::PhotoState::Attached
                                                        : checklist::PhotoState::Missing});
        if (!judged) return false;
        record::ReadingTaken taken{.check = check.id.text, .place = place, .text = record::Words{text},
                                   .instrument = judged->input.instrument ? judged->input.instrument->card.id : "",
                                   .photos = {}, .read_at = "2026-11-25T09:10:00+05:00", .by = "Tindo Quellaby",
                                   .judged = recorded(assessment, check, *judged, {}), .out_of_order = {}};
        if (corrects.empty()) write(std::move(taken));
        else write(record::FaultCorrected{std::move(taken), corrects, record::Personal::said(done)});
        return true;
    }
    void defer(const checklist::Check& check, const std::string& until, const std::string& owner) {
        write(record::Deferred{.check = check.id.text, .until = until,
                               .owner = owner.empty() ? std::nullopt : std::optional{record::Personal::said(owner)},
                               .why = record::Personal::said("not hot yet"), .reason = "", .by = "crew"});
    }
    void concede(const checklist::Check& check) {
        write(record::Conceded{check.id.text, "Odrun Vassamy", record::Personal::said("the rafters lie so")});
    }
    void undo(const std::string& entry) { write(record::Undone{entry, "crew"}); }
    void sign(record::SignRole role) {
        write(record::SignedBy{.role = role, .name = record::Personal::said("Tindo Quellaby"), .strokes = std::nullopt,
                               .summary_hash = "", .refused = std::nullopt, .by = "crew"});
    }

    /// Answers what applies and counts, rightly.
    void do_all() {
        for (const auto& check : hand_.list->checks) {
            const auto shown = look(check);
            if (!shown.applies || !(shown.core || shown.hold)) continue;
            answer_rightly(check, shown);
        }
    }
    void answer_rightly(const checklist::Check& check, const CheckView& shown) {
        if (shown.form == EntryForm::None || shown.form == EntryForm::Signature) return;
        bool placed = false;
        if (shown.form != EntryForm::Series)
            for (const auto& place : shown.places)
                if (place.required && !place.name.empty()) {
                    read(check, place.name, right_at(place));
                    placed = true;
                }
        if (!placed) read(check, "", right_answer(shown));
    }
    [[nodiscard]] std::string right_answer(const CheckView& shown) const {
        const std::string faces = fact_text(hand_.state(), "sys.az_target");
        return shown.id == "coll-azimuth" && !faces.empty() ? faces + "°" : fine_answer(shown);
    }
    [[nodiscard]] static std::string right_at(const PlaceView& place) {
        return !place.accepted.empty() ? place.accepted.front()
               : !place.unit.empty()   ? fine_number(place.limits, place.unit)
                                       : "yes";
    }

private:
    void write(record::Body body) {
        const auto number = static_cast<std::int64_t>(entries_.size()) + 1;
        record::Written written{{.device = "paper", .seq = number, .prev = "",
                                 .time = record::text_of(record::Stamp{1795579200000LL + number * 1000, 0}),
                                 .job = "J-PAPER-0001", .body = std::move(body)},
                                digest::sha256_hex("entry " + std::to_string(number))};
        // A copy of this journal may hold the same state.
        if (state_.use_count() > 2) state_ = std::make_shared<record::JobState>(*state_);
        hand_.folded = state_;
        record::fold_in(*state_, written);
        entries_.push_back(std::move(written));
    }

    std::shared_ptr<record::JobState> state_ = std::make_shared<record::JobState>();
    JobInHand hand_;
    std::vector<record::Written> entries_;
};

inline std::string number_outside(const LimitsView& limits, const std::string& unit, Chance& chance) {
    const double span = limits.low && limits.high ? *limits.high - *limits.low : 0.0;
    double value = 1.0;
    if (limits.high && (!limits.low || chance.one_in(2))) value = *limits.high + std::max(std::abs(*limits.high) * 0.3, span) + 0.7;
    else if (limits.low) value = *limits.low - std::max(std::abs(*limits.low) * 0.3, span) - 0.7;
    return units::print_number(value, 2) + " " + unit;
}

/// An answer that is right, wrong, or neither, as a hasty crew would give it.
inline std::string random_answer(const CheckView& shown, const PlaceView* place, Chance& chance) {
    const auto& accepted = place ? place->accepted : shown.accepted;
    const auto& refused = place ? place->refused : shown.refused;
    const auto& limits = place ? place->limits : shown.limits;
    const std::string unit = place ? place->unit : shown.unit;
    const bool right = chance.one_in(2);
    switch (place ? place->form : shown.form) {
        case EntryForm::Choice:
            if (right || refused.empty()) return accepted.empty() ? "yes" : chance.of(accepted);
            return chance.of(refused);
        case EntryForm::Number: return right ? fine_number(limits, unit) : number_outside(limits, unit, chance);
        case EntryForm::Series: return fine_answer(shown);
        case EntryForm::Text: return "noted by hand " + std::to_string(chance.below(1000));
        case EntryForm::YesNo:
        case EntryForm::Photo:
        case EntryForm::Signature:
        case EntryForm::None: return right ? "yes" : "no";
    }
    return "yes";
}

/// A reading that fails, and mostly the correction that proves it right.
inline void fail_and_correct(PaperJournal& journal, Chance& chance, const std::string& done) {
    const auto& check = chance.of(journal.hand().list->checks);
    const auto shown = journal.look(check);
    if (shown.form != EntryForm::YesNo && shown.form != EntryForm::Number && shown.form != EntryForm::Choice) return;
    if (shown.outcome != Outcome::Conforms) return;
    const PlaceView* place = nullptr;
    for (const auto& one : shown.places)
        if (one.required && !one.name.empty()) place = &one;
    const std::string where = place ? place->name : "";
    std::string wrong = "no";
    if (shown.form == EntryForm::Number) wrong = number_outside(place ? place->limits : shown.limits, shown.unit, chance);
    if (shown.form == EntryForm::Choice && !shown.refused.empty()) wrong = chance.of(shown.refused);
    if (!journal.read(check, where, wrong)) return;
    const auto* state = journal.hand().state().check(check.id.text);
    if (state->failures.empty()) return;
    journal.read(check, where, place ? PaperJournal::right_at(*place) : journal.right_answer(shown),
                 state->failures.back().reading, done);
}

inline const std::vector<std::string>& things_done() {
    static const std::vector<std::string> all = {
        "Tightened again", "Thread cleaned and greased, nut tightened again in three steps after the wrench was set",
        "Limiting valve turned down, strainer rinsed, gauge and relief looked at twice", "Collar cut longer and glued"};
    return all;
}

/// One more thing somebody does.
inline void act(PaperJournal& journal, Chance& chance) {
    const auto& check = chance.of(journal.hand().list->checks);
    const auto shown = journal.look(check);
    const auto* state = journal.hand().state().check(check.id.text);
    const bool can_be_read = shown.form != EntryForm::None && shown.form != EntryForm::Signature;
    switch (chance.below(12)) {
        case 0: return journal.defer(check, "2026-11-28", chance.one_in(5) ? "" : "Ode Brannick");
        case 1:
            if (state != nullptr && check.severity != checklist::Severity::Hurts) journal.concede(check);
            return;
        case 2: return journal.undo(chance.of(journal.entries()).hash);
        case 3: return journal.sign(chance.one_in(2) ? record::SignRole::Crew : record::SignRole::Customer);
        default: break;
    }
    if (!can_be_read) return;
    const PlaceView* place = shown.places.empty() ? nullptr : &shown.places[chance.below(shown.places.size())];
    std::string corrects;
    if (state != nullptr && chance.one_in(2))
        for (const auto& failure : state->failures)
            if (!failure.withdrawn && failure.corrected_by.empty()) {
                corrects = failure.reading;
                for (const auto& one : shown.places)
                    if (one.name == failure.place) place = &one;
            }
    journal.read(check, place ? place->name : "", random_answer(shown, place, chance), corrects, chance.of(things_done()),
                 !chance.one_in(6));
}

}  // namespace wm::desk::testing
