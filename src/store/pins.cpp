#include "store/pins.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <fstream>
#include <iterator>

#include "digest/hash.hpp"

namespace wm::store {

namespace fs = std::filesystem;

namespace {

Problem not_kept(const fs::path& file, std::string_view what) {
    return {fmt::format("A checklist could not be kept: {}.", what), file.string(),
            "Make room on the disk or check who may write there, then try again.", ProblemKind::NotStored};
}

bool synced(const fs::path& path, int flags) {
    const int file = ::open(path.c_str(), flags);
    if (file < 0) return false;
    const bool fine = ::fsync(file) == 0;
    ::close(file);
    return fine;
}

std::string content_of(const fs::path& file) {
    std::ifstream in{file, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
}

}  // namespace

Result<std::string> keep_pin(const fs::path& folder, std::string_view text) {
    const std::string hash = digest::sha256_hex(text);
    const fs::path file = folder / "pins" / hash;
    std::error_code problem;
    if (fs::exists(file, problem) && content_of(file) == text) return hash;
    fs::create_directories(file.parent_path(), problem);
    if (problem) return refused(not_kept(file.parent_path(), problem.message()));
    fs::path partial = file;
    partial += ".new";
    {
        std::ofstream out{partial, std::ios::binary | std::ios::trunc};
        out.write(text.data(), static_cast<std::streamsize>(text.size()));
        out.flush();
        if (!out) return refused(not_kept(partial, "the disk did not take it"));
    }
    if (!synced(partial, O_RDONLY)) return refused(not_kept(partial, "the disk did not confirm it"));
    fs::rename(partial, file, problem);
    if (problem) return refused(not_kept(file, problem.message()));
    if (!synced(file.parent_path(), O_RDONLY | O_DIRECTORY))
        return refused(not_kept(file.parent_path(), "the disk did not confirm it"));
    return hash;
}

Result<std::string> read_pin(const fs::path& folder, std::string_view hash) {
    const fs::path file = folder / "pins" / std::string{hash};
    std::error_code problem;
    if (!digest::is_sha256_hex(hash) || !fs::exists(file, problem))
        return refused({"The checklist this job was opened with is not here.", file.string(),
                        "Take over the bundle of the device that opened the job, or restore the folder.",
                        ProblemKind::Unreadable});
    std::string text = content_of(file);
    if (digest::sha256_hex(text) != hash)
        return refused({"The checklist this job was opened with was changed after it was kept.", file.string(),
                        "Restore the file from a backup; its name is the SHA-256 of its content.",
                        ProblemKind::Unreadable});
    return text;
}

}  // namespace wm::store
