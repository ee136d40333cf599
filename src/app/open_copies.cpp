#include "app/open_copies.hpp"

#include <algorithm>
#include <vector>

#include "app/half_typed.hpp"
#include "post/address.hpp"
#include "store/files.hpp"

namespace wm::app {

namespace fs = std::filesystem;

namespace {

/// "J-1A2B-0001.eml", "J-1A2B-0001-2.eml", "J-1A2B-0001.pdf" are of job J-1A2B-0001.
bool is_of(const fs::path& file, const std::string& job) {
    const std::string stem = file.stem().string();
    const std::string name = post::file_name(job);
    return stem == name || stem.starts_with(name + "-") || stem == job || stem.starts_with(job + "-");
}

/// The job in whose check something was half typed stands before the first tab.
bool is_of_typed(const fs::path& file, const std::string& job) {
    const auto text = store::read_file(file);
    return text && text->substr(0, text->find('\t')) == job;
}

std::vector<fs::path> open_files(const fs::path& data) {
    std::vector<fs::path> files;
    std::error_code ignored;
    if (fs::is_regular_file(data / half_typed_file, ignored)) files.push_back(data / half_typed_file);
    for (const char* folder : {"outbox", "reports"})
        for (const auto& entry : fs::directory_iterator{data / folder, ignored})
            if (entry.is_regular_file(ignored)) files.push_back(entry.path());
    return files;
}

}  // namespace

Result<std::size_t> drop_copies_of_erased(desk::Desk& desk, const fs::path& data) {
    const auto files = open_files(data);
    if (files.empty()) return std::size_t{0};
    const auto erased = desk.journal().erased_customers();
    if (!erased) return tl::unexpected(erased.error());
    if (erased->empty()) return std::size_t{0};
    const auto jobs = desk.journal().jobs();
    if (!jobs) return tl::unexpected(jobs.error());
    std::size_t dropped = 0;
    for (const auto& file : files) {
        const bool is_typed = file.filename() == half_typed_file;
        const auto line = std::find_if(jobs->begin(), jobs->end(), [&](const store::JobLine& each) {
            return is_typed ? is_of_typed(file, each.job) : is_of(file, each.job);
        });
        if (line == jobs->end()) continue;
        const auto hand = desk.in_hand(line->job);
        if (!hand) return tl::unexpected(hand.error());
        const auto& opened = hand->state().opened;
        if (!opened || std::find(erased->begin(), erased->end(), opened->customer) == erased->end()) continue;
        if (const auto gone = store::remove_file(file); !gone) return tl::unexpected(gone.error());
        ++dropped;
    }
    return dropped;
}

}  // namespace wm::app
