// A disk in memory that remembers every change and every sync, so that the files as a loss of power
// at any moment would leave them can be made afterwards; and that lets any one call fail.
//
// What is believed of a disk: bytes written and not synced may be there in any part and any order;
// a name made, moved or taken away is safe once its folder was synced; a rename is whole or not
// there. SQLite reaches it by memory_vfs.hpp.
#pragma once

#include <algorithm>
#include <cerrno>
#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "store/disk.hpp"
#include "store/quiet.hpp"

namespace wm::store::testing {

using FileNumber = int;

struct Change {
    enum class Kind { Write, Cut, Sync, Name, SyncFolder, Mark };
    Kind kind = Kind::Mark;
    FileNumber file = -1;
    std::size_t at = 0;         ///< of a write; the new size of a cut; the number of a mark
    std::string bytes;          ///< written
    std::string name, old_name; ///< what now names `file`, and what no longer names anything; the folder of a sync
};

/// Which of all calls fails, and how.
struct Fault {
    int call = 0;       ///< 1 = the next one; 0 = none
    int error = EIO;    ///< errno; 0 = a short count where the call has one
};

class MemoryDisk : public Disk {
public:
    struct File {
        std::string bytes;
    };

    /// `name` of the VFS; see MemoryVfs.
    explicit MemoryDisk(std::string name) : name_{std::move(name)} {}

    bool recording = false;
    std::vector<Change> changes;
    Fault fault;
    int calls = 0;               ///< since the last plan()
    std::string failed_call;     ///< which call it was that failed, and of what
    std::map<std::string, FileNumber> names;
    std::map<FileNumber, std::shared_ptr<File>> files;
    std::map<FileNumber, std::vector<std::unique_ptr<char[]>>> shared;  ///< SQLite's index of a log, in memory

    void plan(Fault next) {
        fault = next;
        calls = 0;
        failed_call.clear();
    }
    void mark(std::size_t number) { note({Change::Kind::Mark, -1, number, {}, {}, {}}); }
    void note(Change change) {
        if (recording) changes.push_back(std::move(change));
    }
    /// True when this call is the one that fails.
    bool fails(const char* what, const std::string& path) {
        if (++calls != fault.call) return false;
        failed_call = std::string{what} + " " + path;
        return true;
    }
    std::string path_of(FileNumber file) const {
        for (const auto& [name, number] : names)
            if (number == file) return name;
        return "(no name)";
    }
    static std::string folder_of(const std::string& path) { return path.substr(0, path.rfind('/')); }
    bool is_folder(const std::string& path) const { return path.empty() || path == "/" || folders_.count(path) != 0; }
    bool has(const std::string& path) const { return names.count(path) != 0; }

    FileNumber made(const std::string& path) {
        const FileNumber number = next_++;
        files[number] = std::make_shared<File>();
        if (path.empty()) return number;
        names[path] = number;
        note({Change::Kind::Name, number, 0, {}, path, {}});
        return number;
    }
    /// A file that is there before anything is recorded.
    void put(const std::string& path, std::shared_ptr<File> file) {
        const FileNumber number = next_++;
        files[number] = std::move(file);
        names[path] = number;
        for (std::string folder = folder_of(path); !folder.empty(); folder = folder_of(folder)) folders_[folder] = true;
    }
    void write_at(FileNumber file, std::size_t at, std::string bytes) {
        std::string& whole = own(file).bytes;
        if (whole.size() < at + bytes.size()) whole.resize(at + bytes.size());
        whole.replace(at, bytes.size(), bytes);
        note({Change::Kind::Write, file, at, std::move(bytes), {}, {}});
    }
    void cut(FileNumber file, std::size_t size) {
        own(file).bytes.resize(size);
        note({Change::Kind::Cut, file, size, {}, {}, {}});
    }
    void forget(const std::string& path) {
        names.erase(path);
        note({Change::Kind::Name, -1, 0, {}, {}, path});
    }

    // --- Disk ------------------------------------------------------------------------------------
    int open(const std::string& path, OpenAs purpose) override {
        const Quiet own;
        if (fails("open", path)) return failed(-1);
        if (purpose == OpenAs::Folder) {
            if (!is_folder(path)) return error(ENOENT);
        } else if (purpose == OpenAs::Reading) {
            if (!has(path)) return error(is_folder(path) ? EISDIR : ENOENT);
        } else {
            if (!is_folder(folder_of(path))) return error(ENOENT);
            if (!has(path)) made(path);
            else if (purpose == OpenAs::Replacing) cut(names[path], 0);
        }
        const int descriptor = next_descriptor_++;
        descriptors_[descriptor] = {purpose == OpenAs::Folder ? -1 : names[path], path, 0};
        return descriptor;
    }
    std::ptrdiff_t read(int descriptor, char* to, std::size_t size) override {
        const Quiet own;
        auto& open = descriptors_.at(descriptor);
        if (fails("read", open.path)) {
            if (fault.error != 0) return failed(-1);
            size = 1;
        }
        const std::string& bytes = files.at(open.file)->bytes;
        const std::size_t count = std::min(size, bytes.size() - std::min(open.at, bytes.size()));
        bytes.copy(to, count, open.at);
        open.at += count;
        return static_cast<std::ptrdiff_t>(count);
    }
    std::ptrdiff_t write(int descriptor, const char* from, std::size_t size) override {
        const Quiet own;
        auto& open = descriptors_.at(descriptor);
        if (fails("write", open.path)) {
            if (fault.error != 0) return failed(-1);
            size = (size + 1) / 2;
        }
        write_at(open.file, open.at, std::string{from, size});
        open.at += size;
        return static_cast<std::ptrdiff_t>(size);
    }
    int sync(int descriptor) override {
        const Quiet own;
        const auto& open = descriptors_.at(descriptor);
        if (fails("sync", open.path)) return failed(-1);
        if (open.file < 0) note({Change::Kind::SyncFolder, -1, 0, {}, open.path, {}});
        else note({Change::Kind::Sync, open.file, 0, {}, {}, {}});
        return 0;
    }
    void close(int descriptor) override {
        const Quiet own;
        if (const auto open = descriptors_.find(descriptor); open != descriptors_.end()) {
            if (locked_ == descriptor) locked_ = 0;
            descriptors_.erase(open);
        }
    }
    int rename(const std::string& from, const std::string& to) override {
        const Quiet own;
        if (fails("rename", to)) return failed(-1);
        if (!has(from)) return error(ENOENT);
        const FileNumber file = names[from];
        names.erase(from);
        names[to] = file;
        note({Change::Kind::Name, file, 0, {}, to, from});
        return 0;
    }
    int unlink(const std::string& path) override {
        const Quiet own;
        if (fails("unlink", path)) return failed(-1);
        if (!has(path)) return error(ENOENT);
        forget(path);
        return 0;
    }
    int make_folder(const std::string& path) override {
        const Quiet own;
        if (fails("mkdir", path)) return failed(-1);
        folders_[path] = true;  // an empty folder more or less is no loss: it is made again
        return 0;
    }
    int lock(int descriptor) override {
        const Quiet own;
        if (fails("lock", descriptors_.at(descriptor).path)) return failed(-1);
        if (locked_ != 0) return error(EWOULDBLOCK);
        locked_ = descriptor;
        return 0;
    }
    int look(const std::string& path, Look& found) override {
        const Quiet own;
        if (fails("stat", path)) return failed(-1);
        if (is_folder(path)) found = {true, 0};
        else if (has(path)) found = {false, files.at(names[path])->bytes.size()};
        else return error(ENOENT);
        return 0;
    }
    std::string vfs() const override { return name_; }

    /// Copies the file first where an image of the disk shares it.
    File& own(FileNumber file) {
        auto& held = files.at(file);
        if (held.use_count() > 1) {
            auto copy = std::make_shared<File>();
            copy->bytes = held->bytes;
            held = std::move(copy);
        }
        return *held;
    }

private:
    struct Opened {
        FileNumber file = -1;
        std::string path;
        std::size_t at = 0;
    };
    static int error(int code) {
        errno = code;
        return -1;
    }
    int failed(int result) const {
        errno = fault.error == 0 ? EIO : fault.error;
        return result;
    }

    std::string name_;
    std::map<std::string, bool> folders_;
    std::map<int, Opened> descriptors_;
    FileNumber next_ = 1;
    int next_descriptor_ = 100;
    int locked_ = 0;
};

}  // namespace wm::store::testing
