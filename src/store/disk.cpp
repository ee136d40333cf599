#include "store/disk.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>

namespace wm::store {
namespace {

class SystemDisk final : public Disk {
public:
    int open(const std::string& path, OpenAs purpose) override {
        return ::open(path.c_str(), flags_of(purpose) | O_CLOEXEC, 0600);
    }
    std::ptrdiff_t read(int descriptor, char* to, std::size_t size) override {
        return ::read(descriptor, to, size);
    }
    std::ptrdiff_t write(int descriptor, const char* from, std::size_t size) override {
        return ::write(descriptor, from, size);
    }
    int sync(int descriptor) override { return ::fsync(descriptor); }
    void close(int descriptor) override { ::close(descriptor); }
    int rename(const std::string& from, const std::string& to) override {
        return std::rename(from.c_str(), to.c_str());
    }
    int unlink(const std::string& path) override { return ::unlink(path.c_str()); }
    int make_folder(const std::string& path) override { return ::mkdir(path.c_str(), 0700); }
    int lock(int descriptor) override { return ::flock(descriptor, LOCK_EX | LOCK_NB); }
    int look(const std::string& path, Look& found) override {
        struct stat status {};
        const int code = ::stat(path.c_str(), &status);
        found = {S_ISDIR(status.st_mode), static_cast<std::uint64_t>(status.st_size)};
        return code;
    }
    std::string vfs() const override { return {}; }

private:
    static int flags_of(OpenAs purpose) {
        switch (purpose) {
            case OpenAs::Reading:
                return O_RDONLY;
            case OpenAs::Replacing:
                return O_WRONLY | O_CREAT | O_TRUNC;
            case OpenAs::Locking:
                return O_RDWR | O_CREAT;
            case OpenAs::Folder:
                return O_RDONLY | O_DIRECTORY;
        }
        return O_RDONLY;
    }
};

}  // namespace

Disk& system_disk() {
    static SystemDisk disk;
    return disk;
}

int WatchedDisk::sync(int descriptor) {
    const int code = real_.sync(descriptor);
    // An interrupted sync is asked for again and says nothing about the disk.
    if (code != 0 && errno != EINTR) sync_failed_ = true;
    return code;
}

}  // namespace wm::store
