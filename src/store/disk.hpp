// The calls this room makes to the disk, as an interface: a test puts a disk there that fails or
// forgets on demand.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

namespace wm::store {

/// What stands under a path.
struct Look {
    bool is_folder = false;
    std::uint64_t size = 0;  ///< bytes; of a file only
};

enum class OpenAs { Reading, Replacing, Locking, Folder };

/// Each call as the POSIX one of that name: a negative value and errno when it failed, a short
/// count where POSIX allows one. SQLite reaches the same disk by its own way, named by vfs().
class Disk {
public:
    virtual ~Disk() = default;

    /// A descriptor. Replacing and Locking make the file when it is missing, mode 0600; Replacing
    /// empties it.
    [[nodiscard]] virtual int open(const std::string& path, OpenAs purpose) = 0;
    [[nodiscard]] virtual std::ptrdiff_t read(int descriptor, char* to, std::size_t size) = 0;
    [[nodiscard]] virtual std::ptrdiff_t write(int descriptor, const char* from, std::size_t size) = 0;
    /// Of a file or of a folder: what was done to it before survives a loss of power.
    [[nodiscard]] virtual int sync(int descriptor) = 0;
    virtual void close(int descriptor) = 0;
    [[nodiscard]] virtual int rename(const std::string& from, const std::string& to) = 0;
    [[nodiscard]] virtual int unlink(const std::string& path) = 0;
    /// Mode 0700.
    [[nodiscard]] virtual int make_folder(const std::string& path) = 0;
    /// Whole and exclusive, without waiting: errno is EWOULDBLOCK while another holds it.
    [[nodiscard]] virtual int lock(int descriptor) = 0;
    [[nodiscard]] virtual int look(const std::string& path, Look& found) = 0;

    /// Name of the SQLite VFS that works on this disk; empty = the system's own.
    [[nodiscard]] virtual std::string vfs() const = 0;
};

/// The machine's. Keeps nothing.
[[nodiscard]] Disk& system_disk();

/// Passes every call on and remembers whether a sync ever failed: what the kernel could not sync it
/// may have dropped, and the next sync of the same file would not say so again.
class WatchedDisk final : public Disk {
public:
    explicit WatchedDisk(Disk& real) : real_{real} {}

    [[nodiscard]] bool sync_failed() const { return sync_failed_; }

    int open(const std::string& path, OpenAs purpose) override { return real_.open(path, purpose); }
    std::ptrdiff_t read(int descriptor, char* to, std::size_t size) override {
        return real_.read(descriptor, to, size);
    }
    std::ptrdiff_t write(int descriptor, const char* from, std::size_t size) override {
        return real_.write(descriptor, from, size);
    }
    int sync(int descriptor) override;
    void close(int descriptor) override { real_.close(descriptor); }
    int rename(const std::string& from, const std::string& to) override { return real_.rename(from, to); }
    int unlink(const std::string& path) override { return real_.unlink(path); }
    int make_folder(const std::string& path) override { return real_.make_folder(path); }
    int lock(int descriptor) override { return real_.lock(descriptor); }
    int look(const std::string& path, Look& found) override { return real_.look(path, found); }
    std::string vfs() const override { return real_.vfs(); }

private:
    Disk& real_;
    bool sync_failed_ = false;
};

}  // namespace wm::store
