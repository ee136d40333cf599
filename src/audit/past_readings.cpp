#include "audit/past_readings.hpp"

#include <algorithm>
#include <cassert>

#include "audit/kept_bytes.hpp"

namespace wm::audit {

namespace {

constexpr std::string_view digits = "0123456789abcdef";

// A hash as bytes; what is none becomes zeros.
void append_hash(std::string& into, std::string_view hex, std::size_t bytes) {
    for (std::size_t i = 0; i < bytes; ++i) {
        const auto high = 2 * i + 1 < hex.size() ? digits.find(hex[2 * i]) : 0;
        const auto low = 2 * i + 1 < hex.size() ? digits.find(hex[2 * i + 1]) : 0;
        into += static_cast<char>(static_cast<unsigned char>((high % 16) * 16 + low % 16));
    }
}

}  // namespace

void PastReadings::add(const PastJob& job) {
    Job row{.number = job.job, .made_after = job.made_after, .checklist = texts_.of(job.checklist), .pin = texts_.of(job.pin),
            .practice = job.practice, .facts = {}};
    row.facts.reserve(job.facts.size());
    for (const auto& [key, value] : job.facts) {
        const auto code = texts_.of(key);
        row.facts.emplace_back(code, texts_.of(value));
    }
    jobs_.push_back(std::move(row));
    for (const auto& one : job.readings) {
        check_.push_back(checks_.of(one.check));
        place_.push_back(texts_.of(one.place));
        text_.push_back(texts_.of(one.text));
        instrument_.push_back(texts_.of(one.instrument));
        day_.push_back(day_code(one.day));
        marks_.push_back(static_cast<std::uint8_t>(static_cast<unsigned>(one.was) | (one.photo ? with_photo : 0U)));
        append_hash(entries_, one.entry, hash_bytes);
    }
    first_.push_back(check_.size());
}

// The numbers of the other hold here too.
void PastReadings::add(const PastReadings& other, std::size_t job) {
    jobs_.push_back(other.jobs_[job]);
    const auto range = other.readings_of(job);
    const auto copy = [&](auto& into, const auto& from) {
        into.insert(into.end(), from.begin() + static_cast<std::ptrdiff_t>(range.first), from.begin() + static_cast<std::ptrdiff_t>(range.last));
    };
    copy(check_, other.check_);
    copy(place_, other.place_);
    copy(text_, other.text_);
    copy(instrument_, other.instrument_);
    copy(day_, other.day_);
    copy(marks_, other.marks_);
    entries_.append(other.entries_, range.first * hash_bytes, (range.last - range.first) * hash_bytes);
    first_.push_back(check_.size());
}

PastReadings PastReadings::with(const std::map<std::string, PastJob>& fresh) && {
    assert(has_entries() && "columns without their entries cannot be added to");
    if (fresh.empty()) return std::move(*this);
    PastReadings all;
    all.checks_ = std::move(checks_);
    all.texts_ = std::move(texts_);
    std::size_t old = 0;
    for (const auto& [number, job] : fresh) {
        for (; old < jobs_.size() && jobs_[old].number < number; ++old) all.add(*this, old);
        if (old < jobs_.size() && jobs_[old].number == number) ++old;
        all.add(job);
    }
    for (; old < jobs_.size(); ++old) all.add(*this, old);
    return all;
}

std::string PastReadings::entry(std::size_t row) const {
    std::string hex;
    if (!has_entries()) return hex;
    for (const char byte : std::string_view{entries_}.substr(row * hash_bytes, hash_bytes)) {
        hex += digits[static_cast<unsigned char>(byte) / 16];
        hex += digits[static_cast<unsigned char>(byte) % 16];
    }
    return hex;
}

PastJob PastReadings::job(std::size_t at) const {
    PastJob job{.job = number(at), .checklist = checklist(at), .pin = pin(at), .made_after = made_after(at), .practice = practice(at),
                .facts = {}, .readings = {}};
    for (const auto& [key, value] : facts(at)) job.facts.emplace_back(texts_.text(key), texts_.text(value));
    const auto range = readings_of(at);
    for (auto row = range.first; row < range.last; ++row)
        job.readings.push_back({.check = checks_.text(check(row)), .place = place(row), .text = text(row), .day = day_text(day(row)),
                                .instrument = texts_.text(instrument(row)), .photo = photo(row), .was = was(row), .entry = entry(row)});
    return job;
}

std::string PastReadings::kept() const {
    kept::Writer writer;
    writer.all(kept::order_of_bytes, checks_, texts_, first_, check_, place_, text_, instrument_, day_, marks_);
    writer.put(static_cast<std::uint64_t>(jobs_.size()));
    for (const auto& job : jobs_) {
        writer.all(job.number, job.made_after, job.checklist, job.pin, job.practice);
        writer.put(static_cast<std::uint64_t>(job.facts.size()));
        for (const auto& [key, value] : job.facts) writer.all(key, value);
    }
    return writer.done();
}

std::optional<PastReadings> PastReadings::read_kept(std::string_view bytes) {
    PastReadings all;
    kept::Reader reader{bytes};
    std::uint32_t order = 0;
    reader.get(order);
    if (order != kept::order_of_bytes) return std::nullopt;
    reader.all(all.checks_, all.texts_, all.first_, all.check_, all.place_, all.text_, all.instrument_, all.day_, all.marks_);
    const auto jobs = reader.count(1);
    for (std::size_t i = 0; i < jobs && !reader.is_torn(); ++i) {
        auto& job = all.jobs_.emplace_back();
        reader.all(job.number, job.made_after, job.checklist, job.pin, job.practice);
        job.facts.resize(reader.count(2 * sizeof(Code)));
        for (auto& [key, value] : job.facts) {
            reader.all(key, value);
            reader.demand(key < all.texts_.size() && value < all.texts_.size());
        }
        reader.demand(job.checklist < all.texts_.size() && job.pin < all.texts_.size() &&
                      (i == 0 || all.jobs_[i - 1].number < job.number));
    }
    const std::size_t rows = all.check_.size();
    const bool sound = !reader.is_torn() && reader.is_at_end() && kept::are_starts(all.first_, all.jobs_.size(), rows) &&
                       kept::all_below(all.check_, rows, all.checks_) && kept::all_below(all.place_, rows, all.texts_) &&
                       kept::all_below(all.text_, rows, all.texts_) && kept::all_below(all.instrument_, rows, all.texts_) &&
                       all.day_.size() == rows && all.marks_.size() == rows &&
                       std::all_of(all.marks_.begin(), all.marks_.end(), [](std::uint8_t marks) {
                           return (marks & outcome_bits) <= static_cast<unsigned>(measure::Outcome::NotApplicable);
                       });
    if (!sound) return std::nullopt;
    return all;
}

bool PastReadings::take_entries(std::string entries) {
    if (entries.size() != check_.size() * hash_bytes) return false;
    entries_ = std::move(entries);
    return true;
}

}  // namespace wm::audit
