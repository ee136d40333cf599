#include "store/pins.hpp"

#include <algorithm>

#include "digest/hash.hpp"
#include "store/files.hpp"

namespace wm::store {

namespace fs = std::filesystem;

namespace {

fs::path file_of(const fs::path& folder, std::string_view hash) {
    return folder / "pins" / std::string{hash};
}

}  // namespace

Result<std::string> keep_pin(const fs::path& folder, std::string_view text, Disk& disk) {
    const std::string hash = digest::sha256_hex(text);
    const fs::path file = file_of(folder, hash);
    if (const auto there = read_file(file, disk); there && *there == text) return hash;
    if (const auto written = write_file(file, text, disk); !written) return refused(written.error());
    return hash;
}

Result<std::string> read_pin(const fs::path& folder, std::string_view hash, Disk& disk) {
    const fs::path file = file_of(folder, hash);
    const auto there = has_pin(folder, hash, disk);
    if (!there) return refused(there.error());
    if (!*there) {
        return refused(
            {"The checklist this job was opened with is not here.", file.string(),
             "Take over the bundle of the device that opened the job, or restore the folder.",
             ProblemKind::Unreadable});
    }
    auto text = read_file(file, disk);
    if (text && digest::sha256_hex(*text) != hash) {
        return refused({"The checklist this job was opened with was changed after it was kept.",
                        file.string(),
                        "Restore the file from a backup; its name is the SHA-256 of its content.",
                        ProblemKind::Unreadable});
    }
    return text;
}

std::vector<fs::path> published_lists(const fs::path& folder) {
    std::vector<fs::path> found;
    std::error_code problem;
    for (fs::recursive_directory_iterator at{folder / "checklists", problem}, end; !problem && at != end; at.increment(problem)) {
        std::error_code gone;
        if (at->is_regular_file(gone)) found.push_back(at->path().lexically_relative(folder));
    }
    std::sort(found.begin(), found.end());
    return found;
}

Result<bool> has_pin(const fs::path& folder, std::string_view hash, Disk& disk) {
    if (!digest::is_sha256_hex(hash)) return false;
    const auto there = look_at_file(file_of(folder, hash), disk);
    if (!there) return refused(there.error());
    return there->has_value();
}

Result<void> drop_pin(const fs::path& folder, std::string_view hash, Disk& disk) {
    if (!digest::is_sha256_hex(hash)) return {};
    return remove_file(file_of(folder, hash), disk);
}

}  // namespace wm::store
