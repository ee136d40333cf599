#include "audit/try_counts.hpp"

#include <algorithm>
#include <future>
#include <thread>
#include <unordered_map>

namespace wm::audit {

namespace {

bool same(const Likeness& a, const Likeness& b) {
    return a.roof == b.roof && a.system == b.system && a.household == b.household;
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

TryCounts::Profiles::Profiles(const Columns& columns, const CountSpan& span, std::span<const Frame> frames) {
    std::vector<std::vector<Code>*> wanted(columns.names().material.size(), nullptr);
    for (const auto& frame : frames)
        for (const auto name : frame.materials)
            if (const auto material = columns.names().material.find(name)) wanted[*material] = &batch_of_job[*material];
    for (auto& [material, batches] : batch_of_job) batches.resize(columns.job_count(), no_batch);
    Pairs buildings, people, all;
    of_job.resize(columns.job_count());
    jobs.reserve(columns.job_count());
    for (std::size_t j = 0; j < columns.job_count(); ++j) {
        const auto& job = columns.codes(j);
        if (is_outside(job, span)) continue;
        jobs.push_back(static_cast<std::uint32_t>(j));
        const Code code = all.of(buildings.of(job.roof, job.system), people.of(job.crew, job.vulnerable ? 1 : 0));
        if (code == first_job.size()) first_job.push_back(static_cast<std::uint32_t>(j));
        of_job[j] = code;
        // Once for all frames: the parts of a job lie far from those of the next. The first of a material counts.
        for (const auto& [material, batch] : columns.batches(j))
            if (auto* batches = wanted[material]; batches != nullptr && (*batches)[j] == no_batch) (*batches)[j] = batch;
    }
}

void TryCounts::fill(Frame& frame, const Columns& columns, const Profiles& profiles) {
    std::vector<const std::vector<Code>*> materials;  // nullptr: no part of any job is of it
    for (const auto name : frame.materials) {
        const auto material = columns.names().material.find(name);
        materials.push_back(material ? &profiles.batch_of_job.at(*material) : nullptr);
    }
    Pairs roofs, homes, within, parts, all;
    std::vector<Code> batches(materials.size());
    // Both are in the order in which they are met among the jobs, so the kin are too.
    const auto kin_of = [&](const JobCodes& job, Code combined) {
        const bool vulnerable = frame.likeness.household && job.vulnerable;
        const Code alike = homes.of(roofs.of(frame.likeness.roof ? job.roof : 0, frame.likeness.system ? job.system : 0), vulnerable ? 1 : 0);
        const Code stratum = materials.empty() ? alike : within.of(alike, combined);
        const Code code = all.of(stratum, job.crew);
        if (code == frame.kin.size()) frame.kin.push_back({alike, stratum, job.crew, vulnerable, batches});
        return code;
    };
    frame.of_job.resize(columns.job_count());
    std::vector<Code> known;
    if (materials.empty()) {
        for (const auto j : profiles.first_job) known.push_back(kin_of(columns.codes(j), 0));
        for (const auto j : profiles.jobs) frame.of_job[j] = known[profiles.of_job[j]];
        return;
    }
    Pairs met;
    for (const auto j : profiles.jobs) {
        Code combined = 0;
        for (std::size_t i = 0; i < materials.size(); ++i) {
            batches[i] = materials[i] != nullptr ? (*materials[i])[j] : no_batch;
            combined = parts.of(combined, batches[i] + 1);  // 0: no batch
        }
        const Code at = met.of(profiles.of_job[j], combined);
        if (at == known.size()) known.push_back(kin_of(columns.codes(j), combined));
        frame.of_job[j] = known[at];
    }
}

namespace {

/// What one core counted of its part of the jobs.
struct Counted {
    std::vector<TryCell> cells;
    std::vector<FailedTry> failed;  ///< in the order of the columns
};

/// Where the cells of a check stand. Those of one job lie side by side, by frame: a job's tries then touch a few short
/// stretches of memory, and not one place for each check.
struct CellsOfFrame {
    std::size_t first = 0;   ///< cell of its first kindred
    std::size_t stride = 0;  ///< cells of one kindred: before and recently, for each check
};
struct CellsOfCheck {
    std::uint32_t frame = 0;
    std::uint32_t at = 0;  ///< within those of one kindred
};

void take_in(std::vector<TryCell>& whole, const std::vector<TryCell>& part) {
    for (std::size_t i = 0; i < whole.size(); ++i)
        if (part[i].tries > 0) whole[i].add(part[i]);
}

}  // namespace

TryCounts::TryCounts(const Columns& columns, const CountSpan& span, Spread spread) {
    const auto& names = columns.names().check;
    const auto& rows = columns.results();
    std::vector<CellsOfCheck> place(names.size());
    std::vector<CellsOfFrame> stretch;
    for (Code check = 0; check < names.size(); ++check) {
        const std::size_t frame = frame_for(names.text(check));
        stretch.resize(frames_.size());
        place[check] = {static_cast<std::uint32_t>(frame), static_cast<std::uint32_t>(stretch[frame].stride)};
        stretch[frame].stride += 2;
    }
    const Profiles profiles{columns, span, frames_};
    at_once(spread, frames_.size(), [&](std::size_t frame) { fill(frames_[frame], columns, profiles); });
    std::size_t cells = 0;
    for (std::size_t f = 0; f < frames_.size(); ++f) {
        stretch[f].first = cells;
        cells += stretch[f].stride * frames_[f].kin.size();
    }
    const auto& jobs = profiles.jobs;
    const auto count = [&](std::span<const std::uint32_t> part) {
        Counted counted{std::vector<TryCell>(cells), {}};
        std::vector<TryCell*> of_frame(frames_.size());
        for (const auto j : part) {
            for (std::size_t f = 0; f < frames_.size(); ++f)
                of_frame[f] = counted.cells.data() + stretch[f].first + stretch[f].stride * frames_[f].of_job[j];
            const auto range = columns.results_of(j);
            for (auto row = range.first; row < range.last; ++row) {
                const Day day = rows.day[row];
                if (day < span.first || day > span.last) continue;
                const auto [frame, at] = place[rows.check[row]];
                const bool recent = day >= span.first_recent;
                auto& cell = of_frame[frame][at + (recent ? 1U : 0U)];
                ++cell.tries;
                cell.first = std::min(cell.first, day);
                cell.last = std::max(cell.last, day);
                if ((rows.marks[row] & ResultColumns::failed) == 0) continue;
                ++cell.failed;
                counted.failed.push_back({rows.check[row], j, day, frames_[frame].of_job[j], recent});
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
    std::vector<std::vector<FailedTry>> failed(names.size());
    const auto by_check = [&](const std::vector<FailedTry>& of_part) {
        for (const auto& one : of_part) failed[one.check].push_back(one);
    };
    by_check(whole.failed);
    for (auto& other : others) {
        const Counted part = other.get();
        take_in(whole.cells, part.cells);
        by_check(part.failed);
    }
    std::vector<Code> by_name(names.size());
    for (Code check = 0; check < by_name.size(); ++check) by_name[check] = check;
    std::sort(by_name.begin(), by_name.end(), [&](Code a, Code b) { return names.text(a) < names.text(b); });
    std::vector<CheckCounts> all(names.size());
    at_once(spread, all.size(), [&](std::size_t i) {
        auto& counts = all[i];
        counts.check = by_name[i];
        const auto [f, at] = place[counts.check];
        const auto& frame = frames_[f];
        counts.kin = &frame.kin;
        counts.materials = frame.materials;
        counts.cells.reserve(2 * frame.kin.size());
        for (std::size_t kin = 0; kin < frame.kin.size(); ++kin) {
            const auto from = whole.cells.begin() + static_cast<std::ptrdiff_t>(stretch[f].first + stretch[f].stride * kin + at);
            counts.cells.insert(counts.cells.end(), from, from + 2);
        }
        counts.failed = std::move(failed[counts.check]);
        std::ranges::stable_sort(counts.failed, {}, &FailedTry::day);
    });
    for (auto& counts : all)
        if (std::ranges::any_of(counts.cells, [](const TryCell& cell) { return cell.tries > 0; })) checks_.push_back(std::move(counts));
}

}  // namespace wm::audit
