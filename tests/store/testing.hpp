// A data folder that goes away again, and random bytes that are the same in every run.
#pragma once

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "digest/hash.hpp"
#include "store/journal.hpp"

namespace wm::store::testing {

class Folder {
public:
    Folder() {
        static int count = 0;
        path_ = std::filesystem::temp_directory_path() /
                ("wm-store-" + std::to_string(::getpid()) + "-" + std::to_string(++count));
        std::filesystem::create_directories(path_);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder() {
        std::error_code error;
        std::filesystem::remove_all(path_, error);
    }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }
    operator std::filesystem::path() const { return path_; }  // NOLINT(google-explicit-constructor)

private:
    std::filesystem::path path_;
};

/// Bytes that follow from `start` and how often they were asked for.
inline RandomBytes counted_bytes(std::string start) {
    return [start = std::move(start), count = 0](std::size_t size) mutable {
        std::string bytes;
        while (bytes.size() < size) bytes += digest::sha256(start + std::to_string(++count));
        bytes.resize(size);
        return bytes;
    };
}

inline constexpr std::int64_t some_time = 1'804'000'000'000;  ///< 2027-03-02

inline Opening opening(const std::filesystem::path& folder, std::string start = "a") {
    return {.folder = folder,
            .random = counted_bytes(std::move(start)),
            .wall_ms = some_time,
            .company = "",
            .vfs = ""};
}

inline Journal writing(const std::filesystem::path& folder, std::string start = "a") {
    return Journal::open_to_write(opening(folder, std::move(start))).value();
}

inline record::ReadingTaken reading(std::string check, std::string text) {
    record::ReadingTaken taken;
    taken.check = std::move(check);
    taken.text = std::move(text);
    taken.judged.outcome = measure::Outcome::Conforms;
    taken.judged.place_outcome = measure::Outcome::Conforms;
    taken.judged.places_needed = {""};
    return taken;
}

inline record::JobOpened opened(const std::string& customer) {
    record::JobOpened job;
    job.number = "J-1";
    job.customer = customer;
    return job;
}

inline record::NoteMade note(std::string words) {
    return {record::Personal::said(std::move(words)), "", "P-02"};
}

inline Intent intent(std::string customer, std::vector<record::Draft> drafts,
                     std::int64_t wall_ms = some_time) {
    return {.wall_ms = wall_ms, .customer = std::move(customer), .drafts = std::move(drafts)};
}

inline std::string bytes_of(const std::filesystem::path& file) {
    std::ifstream in{file, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, {}};
}

inline void set_bytes(const std::filesystem::path& file, const std::string& bytes) {
    std::ofstream{file, std::ios::binary} << bytes;
}

/// Names of all files below the folder whose bytes hold the text.
inline std::vector<std::string> files_holding(const std::filesystem::path& folder,
                                              const std::string& text) {
    std::vector<std::string> names;
    for (const auto& each : std::filesystem::recursive_directory_iterator{folder}) {
        if (!each.is_regular_file()) continue;
        if (each.path().string().find(text) != std::string::npos ||
            bytes_of(each.path()).find(text) != std::string::npos) {
            names.push_back(each.path().filename().string());
        }
    }
    return names;
}

}  // namespace wm::store::testing
