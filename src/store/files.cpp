#include "store/files.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <chrono>
#include <system_error>
#include <thread>
#include <utility>

namespace wm::store {
namespace {

namespace fs = std::filesystem;

/// The call again for as long as a signal only interrupts it.
template <class Call>
auto uninterrupted(Call call) {
    auto done = call();
    while (done < 0 && errno == EINTR) done = call();
    return done;
}

/// A descriptor that closes itself.
class Open {
public:
    Open(const fs::path& path, OpenAs purpose, Disk& disk)
        : disk_{disk}, descriptor_{uninterrupted([&] { return disk.open(path.string(), purpose); })} {}
    Open(const Open&) = delete;
    Open& operator=(const Open&) = delete;
    ~Open() {
        if (descriptor_ >= 0) disk_.close(descriptor_);
    }
    [[nodiscard]] int descriptor() const { return descriptor_; }
    [[nodiscard]] int let_go() { return std::exchange(descriptor_, -1); }
    [[nodiscard]] bool is_synced() const {
        return uninterrupted([&] { return disk_.sync(descriptor_); }) == 0;
    }
    explicit operator bool() const { return descriptor_ >= 0; }

private:
    Disk& disk_;
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

tl::unexpected<Problem> not_synced(const fs::path& path) {
    return refused({.what = fmt::format("The disk did not take the file for good: {}.", cause()),
                    .where = path.string(),
                    .what_to_do = "Close the program, copy the data folder to another disk, look at "
                                  "the disk's health, and do it again.",
                    .kind = ProblemKind::NotStored});
}

bool write_all(const Open& file, std::string_view bytes, Disk& disk) {
    while (!bytes.empty()) {
        const auto written = uninterrupted(
            [&] { return disk.write(file.descriptor(), bytes.data(), bytes.size()); });
        if (written == 0) errno = ENOSPC;
        if (written <= 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

bool synced_folder(const fs::path& folder, Disk& disk) {
    const Open open{folder, OpenAs::Folder, disk};
    return open && open.is_synced();
}

}  // namespace

Result<std::string> read_file(const fs::path& path, Disk& disk) {
    const Open file{path, OpenAs::Reading, disk};
    std::string bytes;
    char part[65536];
    std::ptrdiff_t count = file ? 1 : -1;
    while (count > 0) {
        count = uninterrupted([&] { return disk.read(file.descriptor(), part, sizeof part); });
        if (count > 0) bytes.append(part, static_cast<std::size_t>(count));
    }
    if (count < 0) {
        return refused({.what = fmt::format("The file could not be read: {}.", cause()),
                        .where = path.string(),
                        .what_to_do = "Restore it from a copy of the data folder.",
                        .kind = ProblemKind::Unreadable});
    }
    return bytes;
}

Result<std::optional<Look>> look_at_file(const fs::path& path, Disk& disk) {
    Look found;
    if (uninterrupted([&] { return disk.look(path.string(), found); }) == 0) return found;
    if (errno == ENOENT || errno == ENOTDIR) return std::optional<Look>{};
    return refused({.what = fmt::format("It cannot be told whether the file is there: {}.", cause()),
                    .where = path.string(),
                    .what_to_do = "See that the folder may be read, and look at the disk's health.",
                    .kind = ProblemKind::Unreadable});
}

Result<void> make_folder(const fs::path& folder, Disk& disk) {
    if (folder.empty() || folder == folder.root_path()) return {};
    const auto there = look_at_file(folder, disk);
    if (!there) return refused(there.error());
    if (*there && (*there)->is_folder) return {};
    if (auto above = make_folder(folder.parent_path(), disk); !above) return above;
    if (uninterrupted([&] { return disk.make_folder(folder.string()); }) != 0 && errno != EEXIST)
        return not_written(folder);
    if (folder.has_parent_path() && !synced_folder(folder.parent_path(), disk))
        return not_synced(folder);
    return {};
}

Result<void> write_file(const fs::path& path, std::string_view bytes, Disk& disk) {
    if (auto made = make_folder(path.parent_path(), disk); !made) return made;
    fs::path beside = path;
    beside += ".new";
    const auto given_up = [&](tl::unexpected<Problem> problem) {
        static_cast<void>(disk.unlink(beside.string()));
        return problem;
    };
    {
        const Open file{beside, OpenAs::Replacing, disk};
        if (!file || !write_all(file, bytes, disk)) return given_up(not_written(path));
        if (!file.is_synced()) return given_up(not_synced(path));
    }
    if (uninterrupted([&] { return disk.rename(beside.string(), path.string()); }) != 0)
        return given_up(not_written(path));
    if (!synced_folder(path.parent_path(), disk)) return not_synced(path);
    return {};
}

Result<void> remove_file(const fs::path& path, Disk& disk) {
    if (uninterrupted([&] { return disk.unlink(path.string()); }) != 0) {
        if (errno == ENOENT) return {};
        return refused({.what = fmt::format("The file could not be removed: {}.", cause()),
                        .where = path.string(),
                        .what_to_do = "See that the folder may be written, then do it again.",
                        .kind = ProblemKind::NotStored});
    }
    if (!synced_folder(path.parent_path(), disk)) return not_synced(path);
    return {};
}

Result<WriterLock> WriterLock::taken(const fs::path& file, Disk& disk, std::int64_t patience_ms) {
    if (auto made = make_folder(file.parent_path(), disk); !made) return refused(made.error());
    Open open{file, OpenAs::Locking, disk};
    if (!open) return not_written(file);
    constexpr std::int64_t pause_ms = 10;
    for (std::int64_t waited_ms = 0; uninterrupted([&] { return disk.lock(open.descriptor()); }) != 0; waited_ms += pause_ms) {
        if (errno == EWOULDBLOCK && waited_ms < patience_ms) {
            std::this_thread::sleep_for(std::chrono::milliseconds{pause_ms});
            continue;
        }
        if (errno != EWOULDBLOCK) return not_written(file);
        return refused({.what = "Another window or program is writing into this data folder.",
                        .where = file.parent_path().string(),
                        .what_to_do = "Close the other one, or look without writing.",
                        .kind = ProblemKind::NotStored});
    }
    return WriterLock{open.let_go(), disk};
}

WriterLock::WriterLock(WriterLock&& other) noexcept
    : descriptor_{std::exchange(other.descriptor_, -1)}, disk_{other.disk_} {}

WriterLock& WriterLock::operator=(WriterLock&& other) noexcept {
    std::swap(descriptor_, other.descriptor_);
    std::swap(disk_, other.disk_);
    return *this;
}

WriterLock::~WriterLock() {
    if (descriptor_ >= 0) disk_->close(descriptor_);
}

}  // namespace wm::store
