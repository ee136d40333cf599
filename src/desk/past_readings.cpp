#include "desk/past_readings.hpp"

#include <array>

#include "desk/judged.hpp"
#include "desk/ticks.hpp"

namespace wm::desk {

namespace {

constexpr const char* readings_name = "past readings";
constexpr const char* entries_name = "entries of past readings";
// Changes when rows are made otherwise, so that no row of an older program is believed.
constexpr const char* made_by = "readings 1 ";
constexpr char between = '\x1f';

using Card = record::InstrumentRegistered;
constexpr std::array<std::string Card::*, 9> card_fields = {&Card::id, &Card::type, &Card::range, &Card::resolution, &Card::uncertainty,
                                                           &Card::calibrated_on, &Card::due, &Card::certificate, &Card::as_found};

audit::PastReadings kept_readings(store::Journal& journal, std::string& made_from) {
    const auto kept = journal.cache(readings_name);
    if (!kept || !kept->made_from.starts_with(made_by)) return {};
    made_from = kept->made_from;
    return audit::PastReadings::read_kept(kept->body).value_or(audit::PastReadings{});
}

bool load_entries(store::Journal& journal, audit::PastReadings& readings, const std::string& made_from) {
    if (readings.has_entries()) return true;
    auto kept = journal.cache(entries_name);
    return kept && kept->made_from == made_from && readings.take_entries(std::move(kept->body));
}

}  // namespace

std::string card_text(const Card& card) {
    std::string text;
    for (const auto field : card_fields) text += card.*field + between;
    return text + card.pre_use_check;
}

Card card_of(std::string_view text) {
    Card card;
    for (const auto field : card_fields) {
        const auto end = std::min(text.find(between), text.size());
        card.*field = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    card.pre_use_check = text;
    return card;
}

audit::PastJob past_job(const record::JobState& state) {
    audit::PastJob job{.job = state.number, .checklist = state.opened->checklist, .pin = state.opened->checklist_hash, .made_after = "",
                       .practice = state.opened->practice, .facts = {}, .readings = {}};
    // What was ticked of the parts says nothing of the house, and no limit asks for it.
    for (const auto& [key, fact] : state.facts)
        if (!is_tick(key)) job.facts.emplace_back(key, record::shown(fact.value));
    for (const auto& [id, check] : state.checks)
        for (const auto& reading : check.readings) {
            if (reading.undone_by || is_set_aside(reading)) continue;
            const auto card = state.instruments.find(reading.taken.instrument);
            job.readings.push_back({.check = id,
                                    .place = reading.taken.place,
                                    .text = record::shown(reading.taken.text),
                                    .day = day_of(reading.taken.read_at),
                                    .instrument = card == state.instruments.end() ? "" : card_text(card->second),
                                    .photo = !reading.taken.photos.empty(),
                                    .was = reading.judged().place_outcome,
                                    .entry = reading.origin.entry});
        }
    return job;
}

Result<PastLook> past_readings(Desk& desk) {
    auto& journal = desk.journal();
    const auto lines = journal.jobs();
    if (!lines) return tl::unexpected(lines.error());
    std::string made_from;
    auto readings = kept_readings(journal, made_from);
    std::map<std::string, std::string> after;
    for (std::size_t job = 0; job < readings.job_count(); ++job) after.emplace(readings.number(job), readings.made_after(job));
    std::vector<const store::JobLine*> changed;
    for (const auto& line : *lines)
        if (const auto kept = after.find(line.job); kept == after.end() || kept->second.empty() || kept->second != line.last_hash)
            changed.push_back(&line);
    if (!changed.empty() && !load_entries(journal, readings, made_from)) {
        readings = {};
        changed.clear();
        for (const auto& line : *lines) changed.push_back(&line);
    }
    std::map<std::string, audit::PastJob> fresh;
    for (const auto* line : changed) {
        auto entries = journal.read_job(line->job);
        if (!entries) return tl::unexpected(entries.error());
        const auto state = record::folded(line->job, entries->entries);
        // A job whose first entry cannot be read has no list to be judged by; attest names it.
        if (!state.opened) continue;
        auto job = past_job(state);
        job.made_after = entries->damaged.empty() ? line->last_hash : "";
        fresh.emplace(line->job, std::move(job));
    }
    PastLook look{std::move(readings), fresh.size()};
    if (!fresh.empty()) look.readings = std::move(look.readings).with(fresh);
    constexpr std::size_t worth_keeping = 16;
    if (look.made_anew >= worth_keeping && desk.setup().access == Access::Write)
        if (auto kept = keep_past(journal, look.readings); !kept) return tl::unexpected(kept.error());
    return look;
}

Result<void> with_entries(Desk& desk, audit::PastReadings& readings) {
    if (readings.has_entries()) return {};
    std::string made_from;
    (void)kept_readings(desk.journal(), made_from);
    if (load_entries(desk.journal(), readings, made_from)) return {};
    return refused({"The hashes of past readings were thrown away meanwhile.", desk.setup().data.string(), "Ask again.",
                    ProblemKind::Unreadable});
}

Result<void> keep_past(store::Journal& writer, const audit::PastReadings& readings) {
    const std::string made_from = made_by + writer.head().hash;
    if (auto kept = writer.put_cache(readings_name, {made_from, readings.kept()}); !kept) return kept;
    return writer.put_cache(entries_name, {made_from, readings.kept_entries()});
}

}  // namespace wm::desk
