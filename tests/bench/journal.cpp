// The journal: a durable append against a bare fdatasync of the same bytes, the fold of a job, the check of the chain.
#include <fcntl.h>
#include <unistd.h>

#include <filesystem>
#include <iostream>

#include "bench/benches.hpp"
#include "bench/timing.hpp"
#include "digest/hash.hpp"
#include "record/codec.hpp"
#include "record/state.hpp"
#include "store/journal.hpp"

namespace wm::bench {

namespace {

namespace fs = std::filesystem;

record::Draft reading(const std::string& job, int number) {
    record::ReadingTaken taken;
    taken.check = fmt::format("check-{}", number % 78);
    taken.text = std::string{"20.1 N·m"};
    taken.instrument = "TW-1";
    taken.read_at = "2026-11-25T09:00:00+05:00";
    taken.by = "Tindo Quellaby";
    taken.judged.outcome = measure::Outcome::Conforms;
    taken.judged.place_outcome = measure::Outcome::Conforms;
    taken.judged.why = "20.1 N·m keeps to what is allowed, 18.0 to 22.0 N·m, and stays 0.5 N·m away from every limit.";
    taken.judged.tolerance = "18.0 to 22.0 N·m (20.0 N·m ± 10 %)";
    taken.judged.checklist_hash = std::string(64, 'a');
    taken.judged.engine = "1";
    return {job, std::move(taken)};
}

// One write of so many bytes and its sync, as any program would do at the least.
void bare_sync(int file, const std::string& bytes) {
    if (::write(file, bytes.data(), bytes.size()) != static_cast<ssize_t>(bytes.size()) || ::fdatasync(file) != 0) {
        std::cerr << "the bare file cannot be written\n";
        std::exit(4);
    }
}

/// As many bytes as a stored picture has, put down so that they survive a loss of power, by the plainest way: written beside,
/// synced, renamed, the folder synced. Then the line.
void bare_picture(const fs::path& folder, const std::string& picture, int line_file, const std::string& line) {
    const auto beside = folder / "picture.new";
    const int file = ::open(beside.c_str(), O_CREAT | O_WRONLY | O_TRUNC, 0600);
    bare_sync(file, picture);
    ::close(file);
    fs::rename(beside, folder / "picture");
    const int of_folder = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY);
    if (::fsync(of_folder) != 0) std::exit(4);
    ::close(of_folder);
    bare_sync(line_file, line);
}

}  // namespace

int journal(const std::string& folder, double seconds) {
    fs::create_directories(folder);
    int block = 0;
    auto opened = store::Journal::open_to_write({.folder = fs::path{folder} / "data",
                                                 .random =
                                                     [&](std::size_t count) {
                                                         std::string bytes;
                                                         while (bytes.size() < count)
                                                             bytes += digest::sha256("bench" + std::to_string(block++));
                                                         bytes.resize(count);
                                                         return bytes;
                                                     },
                                                 .wall_ms = 1795579200000LL,
                                                 .company = "Bench",
                                                 .vfs = ""});
    if (!opened) {
        std::cerr << told(opened.error()) << "\n";
        return 4;
    }
    auto& journal = *opened;
    const auto customer = journal.new_customer();
    if (!customer) return 4;
    std::int64_t now = 1795579200000LL;
    int number = 0;
    const auto append = [&](const std::string& job) {
        auto written = journal.append({.wall_ms = now += 1000, .customer = *customer, .drafts = {reading(job, number++)}});
        if (!written) {
            std::cerr << told(written.error()) << "\n";
            std::exit(4);
        }
        return std::move(*written);
    };
    const auto sample = append("J-WARM-0001");
    const auto text = record::line_of(sample.front().entry);
    const std::string bytes(text ? text->size() : 1000, 'x');
    const int file = ::open((fs::path{folder} / "bare").c_str(), O_CREAT | O_WRONLY | O_APPEND, 0600);
    // In turn, so that both meet the same disk.
    std::vector<double> ours;
    std::vector<double> bare;
    times_of(2000, seconds, [&] {
        ours.push_back(times_of(1, 1.0, [&] { append("J-BENC-0001"); }).front());
        bare.push_back(times_of(1, 1.0, [&] { bare_sync(file, bytes); }).front());
    });
    tell("append", ours);
    tell("bare fdatasync", bare);

    const auto entries = journal.read_job("J-BENC-0001");
    if (!entries) return 4;
    std::vector<record::Written> job(entries->entries.begin(),
                                     entries->entries.begin() + std::min<std::ptrdiff_t>(130, std::ssize(entries->entries)));
    tell("fold of a job of 130 entries", times_of(2000, seconds, [&] { keep(record::folded("J-BENC-0001", job)); }));

    const auto all = journal.read_all();
    if (!all) return 4;
    tell("check of the chain, each entry", times_of(50, seconds, [&] { keep(record::verify_chains(all->entries)); }),
         static_cast<double>(all->entries.size()));
    tell("check of the whole journal, each entry", times_of(50, seconds, [&] { keep(journal.verify_journal()); }),
         static_cast<double>(all->entries.size()));

    // Last: the check of a journal reads its pictures too.
    const std::string picture(130'000, 'p');
    std::vector<double> with_picture, bare_picture_times;
    const auto bare_folder = fs::path{folder} / "pictures";
    fs::create_directories(bare_folder);
    times_of(500, seconds / 2, [&] {
        with_picture.push_back(times_of(1, 1.0, [&] {
                                   auto kept = journal.keep(*customer, picture, "image/jpeg", "");
                                   if (!kept) std::exit(4);
                                   auto draft = reading("J-PICT-0001", number++);
                                   std::get<record::ReadingTaken>(draft.body).photos = {std::move(*kept)};
                                   if (!journal.append({.wall_ms = now += 1000, .customer = *customer, .drafts = {std::move(draft)}})) std::exit(4);
                               }).front());
        bare_picture_times.push_back(times_of(1, 1.0, [&] { bare_picture(bare_folder, picture, file, bytes); }).front());
    });
    ::close(file);
    tell("append with a picture", with_picture);
    tell("bare picture and line", bare_picture_times);
    return 0;
}

}  // namespace wm::bench
