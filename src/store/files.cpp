#include "store/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>
#include <utility>

namespace wm::store {
namespace {

namespace fs = std::filesystem;

/// A descriptor that closes itself.
class Open {
public:
    Open(const fs::path& path, int flags)
        : descriptor_{::open(path.c_str(), flags | O_CLOEXEC, 0600)} {}
    Open(const Open&) = delete;
    Open& operator=(const Open&) = delete;
    ~Open() {
        if (descriptor_ >= 0) ::close(descriptor_);
    }
    [[nodiscard]] int descriptor() const { return descriptor_; }
    explicit operator bool() const { return descriptor_ >= 0; }

private:
    int descriptor_;
};

std::string cause() {
    return std::generic_category().message(errno);
}

tl::unexpected<Problem> not_written(const fs::path& path) {
    return refused({.what = fmt::format("The file could not be written: {}.", cause()),
                    .where = path.string(),
                    .what_to_do = "Make room on the disk and see that the folder may be written.",
                    .kind = ProblemKind::NotStored});
}

bool write_all(int descriptor, std::string_view bytes) {
    while (!bytes.empty()) {
        const auto written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

bool synced_folder(const fs::path& folder) {
    const Open open{folder, O_RDONLY | O_DIRECTORY};
    return open && ::fsync(open.descriptor()) == 0;
}

}  // namespace

Result<std::string> read_file(const fs::path& path) {
    const Open file{path, O_RDONLY};
    std::string bytes;
    char part[65536];
    ssize_t count = file ? 1 : -1;
    while (count > 0) {
        count = ::read(file.descriptor(), part, sizeof part);
        if (count < 0 && errno == EINTR)
            count = 1;
        else if (count > 0)
            bytes.append(part, static_cast<std::size_t>(count));
    }
    if (count < 0) {
        return refused({.what = fmt::format("The file could not be read: {}.", cause()),
                        .where = path.string(),
                        .what_to_do = "Restore it from a copy of the data folder.",
                        .kind = ProblemKind::Unreadable});
    }
    return bytes;
}

Result<void> make_folder(const fs::path& folder) {
    std::error_code error;
    if (folder.empty() || fs::is_directory(folder, error)) return {};
    if (auto above = make_folder(folder.parent_path()); !above) return above;
    if (::mkdir(folder.c_str(), 0700) != 0 && errno != EEXIST) return not_written(folder);
    if (folder.has_parent_path() && !synced_folder(folder.parent_path()))
        return not_written(folder);
    return {};
}

Result<void> write_file(const fs::path& path, std::string_view bytes) {
    if (auto made = make_folder(path.parent_path()); !made) return made;
    fs::path beside = path;
    beside += ".new";
    {
        const Open file{beside, O_WRONLY | O_CREAT | O_TRUNC};
        if (!file || !write_all(file.descriptor(), bytes) || ::fsync(file.descriptor()) != 0) {
            auto problem = not_written(path);
            ::unlink(beside.c_str());
            return problem;
        }
    }
    if (::rename(beside.c_str(), path.c_str()) != 0 || !synced_folder(path.parent_path())) {
        return not_written(path);
    }
    return {};
}

Result<void> remove_file(const fs::path& path) {
    if (::unlink(path.c_str()) != 0) {
        if (errno == ENOENT) return {};
        return not_written(path);
    }
    if (!synced_folder(path.parent_path())) return not_written(path);
    return {};
}

Result<WriterLock> WriterLock::taken(const fs::path& file) {
    if (auto made = make_folder(file.parent_path()); !made) return refused(made.error());
    const int descriptor = ::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    if (descriptor < 0) return not_written(file);
    if (::flock(descriptor, LOCK_EX | LOCK_NB) != 0) {
        const bool is_held = errno == EWOULDBLOCK;
        auto problem = not_written(file);
        ::close(descriptor);
        if (!is_held) return problem;
        return refused({.what = "Another window or program is writing into this data folder.",
                        .where = file.parent_path().string(),
                        .what_to_do = "Close the other one, or look without writing.",
                        .kind = ProblemKind::NotStored});
    }
    return WriterLock{descriptor};
}

WriterLock::WriterLock(WriterLock&& other) noexcept
    : descriptor_{std::exchange(other.descriptor_, -1)} {}

WriterLock& WriterLock::operator=(WriterLock&& other) noexcept {
    std::swap(descriptor_, other.descriptor_);
    return *this;
}

WriterLock::~WriterLock() {
    if (descriptor_ >= 0) ::close(descriptor_);
}

}  // namespace wm::store
