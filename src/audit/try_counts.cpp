#include "audit/try_counts.hpp"

#include <algorithm>
#include <future>
#include <map>
#include <span>
#include <thread>
#include <unordered_map>

namespace wm::audit {

namespace {

bool same(const Likeness& a, const Likeness& b) {
    return a.roof == b.roof && a.system == b.system && a.household == b.household;
}

Code batch_of(const std::vector<std::pair<Code, Code>>& batches, std::optional<Code> material) {
    for (const auto& [name, batch] : batches)
        if (material && name == *material) return batch;
    return no_batch;
}

bool is_outside(const JobCodes& job, const CountSpan& span) { return job.last_day < span.first || job.first_day > span.last; }

/// Numbers for pairs of numbers, in the order they come. Most of both are small: they are looked up where they stand; those
/// that would make the rows too long, by their pair.
class Pairs {
public:
    Code of(Code a, Code b) {
        Code& code = place_of(a, b);
        if (code == none) code = count_++;
        return code;
    }

private:
    static constexpr Code none = 0xFFFFFFFF;
    static constexpr std::size_t most_in_rows = std::size_t{1} << 20U;  // 4 MB

    // What a row did not take once it never takes later, so a pair stands in one place only: what a row needs to hold the pair
    // shrinks by no more than `held_` grows.
    Code& place_of(Code a, Code b) {
        if (a < rows_.size() && b < rows_[a].size()) return rows_[a][b];
        const std::size_t rows = std::max(rows_.size(), std::size_t{a} + 1);
        const std::size_t longer = rows - rows_.size() + std::size_t{b} + 1 - (a < rows_.size() ? rows_[a].size() : 0);
        if (held_ + longer > most_in_rows) return further_.try_emplace(static_cast<std::uint64_t>(a) << 32U | b, none).first->second;
        held_ += longer;
        rows_.resize(rows);
        rows_[a].resize(std::size_t{b} + 1, none);
        return rows_[a][b];
    }

    std::vector<std::vector<Code>> rows_;
    std::unordered_map<std::uint64_t, Code> further_;
    std::size_t held_ = 0;  ///< rows, and codes in them
    Code count_ = 0;
};

}  // namespace

void TryCell::add(const TryCell& other) {
    tries += other.tries;
    failed += other.failed;
    first = std::min(first, other.first);
    last = std::max(last, other.last);
}

std::size_t TryCounts::frame_for(std::string_view check) {
    const auto likeness = likeness_of(check);
    const auto behind = materials_behind(check);
    for (std::size_t i = 0; i < frames_.size(); ++i)
        if (same(frames_[i].likeness, likeness) && std::ranges::equal(frames_[i].materials, behind)) return i;
    frames_.push_back({likeness, {behind.begin(), behind.end()}, {}, {}});
    return frames_.size() - 1;
}

void TryCounts::fill(Frame& frame, const Columns& columns, const CountSpan& span) {
    std::vector<std::optional<Code>> materials;
    for (const auto name : frame.materials) materials.push_back(columns.names().material.find(name));
    Pairs roofs, homes, within, parts, all;
    frame.of_job.resize(columns.job_count());
    for (std::size_t j = 0; j < columns.job_count(); ++j) {
        const auto& job = columns.codes(j);
        if (is_outside(job, span)) continue;
        const bool vulnerable = frame.likeness.household && job.vulnerable;
        Kindred kindred;
        kindred.alike = homes.of(roofs.of(frame.likeness.roof ? job.roof : 0, frame.likeness.system ? job.system : 0), vulnerable ? 1 : 0);
        kindred.stratum = kindred.alike;
        kindred.crew = job.crew;
        kindred.vulnerable = vulnerable;
        if (!materials.empty()) {
            Code combined = 0;
            for (const auto& material : materials) {
                kindred.batches.push_back(batch_of(columns.batches(j), material));
                combined = parts.of(combined, kindred.batches.back() + 1);  // 0: no batch
            }
            kindred.stratum = within.of(kindred.alike, combined);
        }
        const Code code = all.of(kindred.stratum, kindred.crew);
        if (code == frame.kin.size()) frame.kin.push_back(std::move(kindred));
        frame.of_job[j] = code;
    }
}

namespace {

/// What one core counted of its part of the jobs.
struct Counted {
    std::vector<TryCell> cells;
    std::vector<FailedTry> failed;
};

void take_in(Counted& whole, const Counted& part) {
    for (std::size_t i = 0; i < whole.cells.size(); ++i)
        if (part.cells[i].tries > 0) whole.cells[i].add(part.cells[i]);
    whole.failed.insert(whole.failed.end(), part.failed.begin(), part.failed.end());
}

std::vector<std::uint32_t> jobs_within(const Columns& columns, const CountSpan& span) {
    std::vector<std::uint32_t> jobs;
    for (std::size_t j = 0; j < columns.job_count(); ++j)
        if (!is_outside(columns.codes(j), span)) jobs.push_back(static_cast<std::uint32_t>(j));
    return jobs;
}

}  // namespace

TryCounts::TryCounts(const Columns& columns, const CountSpan& span, Spread spread) {
    const auto& names = columns.names().check;
    const auto& rows = columns.results();
    std::vector<std::uint32_t> frame_of(names.size());
    for (Code check = 0; check < names.size(); ++check) frame_of[check] = static_cast<std::uint32_t>(frame_for(names.text(check)));
    at_once(spread, frames_.size(), [&](std::size_t frame) { fill(frames_[frame], columns, span); });
    std::vector<std::size_t> base(names.size() + 1, 0);
    for (Code check = 0; check < names.size(); ++check) base[check + 1] = base[check] + 2 * frames_[frame_of[check]].kin.size();
    const auto jobs = jobs_within(columns, span);
    // In the order of the jobs, so that the lists of failures come out in that order.
    const auto count = [&](std::span<const std::uint32_t> part) {
        Counted counted{std::vector<TryCell>(base.back()), {}};
        std::vector<std::uint32_t> kindred(frames_.size());
        for (const auto j : part) {
            for (std::size_t f = 0; f < frames_.size(); ++f) kindred[f] = frames_[f].of_job[j];
            const auto range = columns.results_of(j);
            for (auto row = range.first; row < range.last; ++row) {
                const Day day = rows.day[row];
                if (day < span.first || day > span.last) continue;
                const Code check = rows.check[row];
                const auto kin = kindred[frame_of[check]];
                const bool recent = day >= span.first_recent;
                auto& cell = counted.cells[base[check] + 2 * kin + (recent ? 1 : 0)];
                ++cell.tries;
                cell.first = std::min(cell.first, day);
                cell.last = std::max(cell.last, day);
                if ((rows.marks[row] & ResultColumns::failed) == 0) continue;
                ++cell.failed;
                counted.failed.push_back({check, j, day, kin, recent});
            }
        }
        return counted;
    };
    const std::size_t hands = spread == Spread::No ? 1 : std::max(1U, std::thread::hardware_concurrency());
    const std::size_t share = (jobs.size() + hands - 1) / hands;
    const auto part_of = [&](std::size_t hand) {
        const auto from = std::min(hand * share, jobs.size());
        return std::span{jobs}.subspan(from, std::min(share, jobs.size() - from));
    };
    std::vector<std::future<Counted>> others;
    for (std::size_t hand = 1; hand < hands; ++hand) others.push_back(beside(spread, [&, hand] { return count(part_of(hand)); }));
    Counted whole = count(part_of(0));
    for (auto& other : others) take_in(whole, other.get());
    auto& [cells, failed] = whole;
    std::vector<Code> by_name(names.size());
    for (Code check = 0; check < by_name.size(); ++check) by_name[check] = check;
    std::sort(by_name.begin(), by_name.end(), [&](Code a, Code b) { return names.text(a) < names.text(b); });
    std::stable_sort(failed.begin(), failed.end(),
                     [](const FailedTry& a, const FailedTry& b) { return a.check != b.check ? a.check < b.check : a.day < b.day; });
    for (const Code check : by_name) {
        CheckCounts counts;
        counts.check = check;
        counts.cells.assign(cells.begin() + static_cast<std::ptrdiff_t>(base[check]), cells.begin() + static_cast<std::ptrdiff_t>(base[check + 1]));
        if (std::ranges::none_of(counts.cells, [](const TryCell& cell) { return cell.tries > 0; })) continue;
        const auto& frame = frames_[frame_of[check]];
        counts.kin = &frame.kin;
        counts.materials = frame.materials;
        const auto of_check = std::ranges::equal_range(failed, check, {}, &FailedTry::check);
        counts.failed.assign(of_check.begin(), of_check.end());
        checks_.push_back(std::move(counts));
    }
}

}  // namespace wm::audit
