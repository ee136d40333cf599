// A disk that hangs: every sync waits at a gate until somebody opens it, or a while has passed. Or it loses one sync.
#pragma once

#include <sqlite3.h>

#include <atomic>
#include <cerrno>
#include <chrono>
#include <condition_variable>
#include <functional>
#include <map>
#include <mutex>
#include <string>
#include <utility>

#include "store/disk.hpp"

namespace wm::store::testing {

class Gate {
public:
    /// `patience`: after that the disk goes on by itself, and it is noted that nobody opened.
    explicit Gate(std::chrono::milliseconds patience) : patience_{patience} {}

    void shut() {
        const std::lock_guard lock{mutex_};
        shut_ = true;
    }
    void open() {
        {
            const std::lock_guard lock{mutex_};
            shut_ = false;
        }
        changed_.notify_all();
    }
    /// Until somebody stands at the gate; false if nobody comes.
    bool wait_for_somebody() {
        std::unique_lock lock{mutex_};
        return changed_.wait_for(lock, patience_, [&] { return waiting_ > 0; });
    }
    [[nodiscard]] bool somebody_waits() {
        const std::lock_guard lock{mutex_};
        return waiting_ > 0;
    }
    [[nodiscard]] bool gave_up() {
        const std::lock_guard lock{mutex_};
        return gave_up_;
    }
    void pass() {
        std::unique_lock lock{mutex_};
        if (!shut_) return;
        ++waiting_;
        changed_.notify_all();
        if (!changed_.wait_for(lock, patience_, [&] { return !shut_; })) gave_up_ = true;
        --waiting_;
    }

private:
    std::mutex mutex_;
    std::condition_variable changed_;
    std::chrono::milliseconds patience_;
    bool shut_ = false, gave_up_ = false;
    int waiting_ = 0;
};

/// The machine's disk with `before_sync` called before each sync, of SQLite's files too. One at a time.
class GatedDisk final : public Disk {
public:
    explicit GatedDisk(std::function<void()> before_sync) {
        before() = std::move(before_sync);
        loses_next() = false;
        base() = sqlite3_vfs_find(nullptr);
        vfs_ = *base();
        vfs_.zName = name;
        vfs_.pNext = nullptr;
        vfs_.xOpen = &open_file;
        sqlite3_vfs_register(&vfs_, 0);
    }
    GatedDisk(const GatedDisk&) = delete;
    GatedDisk& operator=(const GatedDisk&) = delete;
    ~GatedDisk() override { sqlite3_vfs_unregister(&vfs_); }

    /// The next sync fails, whichever file it is of; those after it succeed and say nothing of it, as a kernel does.
    void lose_next_sync() { loses_next() = true; }
    [[nodiscard]] bool has_lost_it() const { return !loses_next(); }

    int open(const std::string& path, OpenAs purpose) override { return real_.open(path, purpose); }
    std::ptrdiff_t read(int descriptor, char* to, std::size_t size) override { return real_.read(descriptor, to, size); }
    std::ptrdiff_t write(int descriptor, const char* from, std::size_t size) override { return real_.write(descriptor, from, size); }
    int sync(int descriptor) override {
        before()();
        if (loses_next().exchange(false)) {
            errno = EIO;
            return -1;
        }
        return real_.sync(descriptor);
    }
    void close(int descriptor) override { real_.close(descriptor); }
    int rename(const std::string& from, const std::string& to) override { return real_.rename(from, to); }
    int unlink(const std::string& path) override { return real_.unlink(path); }
    int make_folder(const std::string& path) override { return real_.make_folder(path); }
    int lock(int descriptor) override { return real_.lock(descriptor); }
    int look(const std::string& path, Look& found) override { return real_.look(path, found); }
    std::string vfs() const override { return name; }

private:
    static constexpr const char* name = "wm-gated";
    static std::function<void()>& before() {
        static std::function<void()> call;
        return call;
    }
    static std::atomic<bool>& loses_next() {
        static std::atomic<bool> loses{false};
        return loses;
    }
    static sqlite3_vfs*& base() {
        static sqlite3_vfs* the_base = nullptr;
        return the_base;
    }
    static auto& real_sync() {
        static int (*call)(sqlite3_file*, int) = nullptr;
        return call;
    }
    static int sync_file(sqlite3_file* file, int flags) {
        before()();
        return loses_next().exchange(false) ? SQLITE_IOERR_FSYNC : real_sync()(file, flags);
    }
    // The file stays SQLite's own; only its table of calls is another, with one of them replaced.
    static int open_file(sqlite3_vfs*, sqlite3_filename path, sqlite3_file* file, int flags, int* out) {
        const int code = base()->xOpen(base(), path, file, flags, out);
        if (file->pMethods == nullptr) return code;
        static std::mutex mutex;
        static std::map<const sqlite3_io_methods*, sqlite3_io_methods> gated;  // files that are locked and those that are not
        const std::lock_guard lock{mutex};
        auto& methods = gated.try_emplace(file->pMethods, *file->pMethods).first->second;
        if (methods.xSync != &sync_file) real_sync() = std::exchange(methods.xSync, &sync_file);
        file->pMethods = &methods;
        return code;
    }

    Disk& real_ = system_disk();
    sqlite3_vfs vfs_{};
};

}  // namespace wm::store::testing
