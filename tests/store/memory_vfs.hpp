// A SQLite VFS on a MemoryDisk. One connection at a time: locks are counted as calls and always given.
#pragma once

#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <string>

#include "store/memory_disk.hpp"

namespace wm::store::testing {

/// Registered under disk.vfs() while it lives. The disk may be replaced by another between two
/// connections, which costs nothing.
class MemoryVfs {
public:
    explicit MemoryVfs(std::string name, MemoryDisk* disk) : name_{std::move(name)} {
        vfs_.iVersion = 2;
        vfs_.szOsFile = static_cast<int>(sizeof(Handle));
        vfs_.mxPathname = 1024;
        vfs_.zName = name_.c_str();
        vfs_.pAppData = disk;
        vfs_.xOpen = &open;
        vfs_.xDelete = &remove;
        vfs_.xAccess = &access;
        vfs_.xFullPathname = [](sqlite3_vfs*, const char* path, int size, char* to) {
            std::strncpy(to, path, static_cast<std::size_t>(size));
            return SQLITE_OK;
        };
        vfs_.xRandomness = [](sqlite3_vfs*, int size, char* to) {
            static unsigned state = 7;  // salts of the log: other ones each time, the same in each run
            for (int i = 0; i < size; ++i) to[i] = static_cast<char>((state = state * 1664525U + 1013904223U) >> 24U);
            return size;
        };
        vfs_.xSleep = [](sqlite3_vfs*, int micros) { return micros; };
        vfs_.xCurrentTime = [](sqlite3_vfs*, double* day) {
            *day = 2461000.5;
            return SQLITE_OK;
        };
        vfs_.xGetLastError = [](sqlite3_vfs*, int, char*) { return 0; };
        vfs_.xCurrentTimeInt64 = [](sqlite3_vfs*, sqlite3_int64* ms) {
            *ms = 212630443200000;
            return SQLITE_OK;
        };
        sqlite3_vfs_register(&vfs_, 0);
    }
    MemoryVfs(const MemoryVfs&) = delete;
    MemoryVfs& operator=(const MemoryVfs&) = delete;
    ~MemoryVfs() { sqlite3_vfs_unregister(&vfs_); }

    void work_on(MemoryDisk* disk) { vfs_.pAppData = disk; }

private:
    struct Handle {
        sqlite3_file base;
        MemoryDisk* disk;
        FileNumber file;
        bool syncs_folder;  ///< as SQLite's own for files it made: the first sync is one of the folder too
    };
    static Handle& of(sqlite3_file* file) { return *reinterpret_cast<Handle*>(file); }
    static MemoryDisk& disk_of(sqlite3_vfs* vfs) { return *static_cast<MemoryDisk*>(vfs->pAppData); }
    static MemoryDisk::File& bytes_of(sqlite3_file* file) { return *of(file).disk->files.at(of(file).file); }
    static bool fails(sqlite3_file* file, const char* what) {
        MemoryDisk& disk = *of(file).disk;
        // The name is looked for only where somebody will read it.
        return fails(disk, what, disk.calls + 1 == disk.fault.call ? disk.path_of(of(file).file) : std::string{});
    }
    static bool fails(MemoryDisk& disk, const char* what, const std::string& path) {
        // An interrupted or short call is done again below SQLite, in its own layer.
        const bool is_hidden = disk.fault.error == EINTR || disk.fault.error == 0;
        if (!disk.fails(what, path) || !is_hidden) return !disk.failed_call.empty() && disk.calls == disk.fault.call;
        disk.failed_call.clear();
        return false;
    }
    static int full_or(const MemoryDisk& disk, int other) {
        return disk.fault.error == ENOSPC ? SQLITE_FULL : other;
    }

    static int open(sqlite3_vfs* vfs, sqlite3_filename path, sqlite3_file* file, int flags, int* out) {
        file->pMethods = nullptr;
        MemoryDisk& disk = disk_of(vfs);
        const std::string name = path == nullptr ? "" : path;
        if (fails(disk, "sqlite open", name))
            return disk.fault.error == EROFS || disk.fault.error == EACCES ? SQLITE_CANTOPEN : SQLITE_IOERR;
        const bool makes = path == nullptr || !disk.has(name);
        if (makes && (flags & SQLITE_OPEN_CREATE) == 0) return SQLITE_CANTOPEN;
        const bool is_log = (flags & (SQLITE_OPEN_WAL | SQLITE_OPEN_MAIN_JOURNAL | SQLITE_OPEN_SUPER_JOURNAL)) != 0;
        of(file) = {{&methods()}, &disk, makes ? disk.made(name) : disk.names[name], makes && is_log};
        if (out != nullptr) *out = flags;
        return SQLITE_OK;
    }
    static int remove(sqlite3_vfs* vfs, const char* path, int sync_folder) {
        const Quiet own;
        MemoryDisk& disk = disk_of(vfs);
        if (fails(disk, "sqlite unlink", path)) return SQLITE_IOERR_DELETE;
        if (!disk.has(path)) return SQLITE_IOERR_DELETE_NOENT;
        disk.forget(path);
        if (sync_folder != 0) disk.note({Change::Kind::SyncFolder, -1, 0, {}, MemoryDisk::folder_of(path), {}});
        return SQLITE_OK;
    }
    static int access(sqlite3_vfs* vfs, const char* path, int, int* out) {
        const Quiet own;
        MemoryDisk& disk = disk_of(vfs);
        if (fails(disk, "sqlite stat", path)) return SQLITE_IOERR_ACCESS;
        *out = disk.has(path) ? 1 : 0;
        return SQLITE_OK;
    }
    static int read(sqlite3_file* file, void* to, int size, sqlite3_int64 at) {
        const Quiet own;
        if (fails(file, "sqlite read")) return SQLITE_IOERR_READ;
        const std::string& bytes = bytes_of(file).bytes;
        const auto from = std::min(static_cast<std::size_t>(at), bytes.size());
        const auto count = std::min(static_cast<std::size_t>(size), bytes.size() - from);
        std::memcpy(to, bytes.data() + from, count);
        if (count == static_cast<std::size_t>(size)) return SQLITE_OK;
        std::memset(static_cast<char*>(to) + count, 0, static_cast<std::size_t>(size) - count);
        return SQLITE_IOERR_SHORT_READ;
    }
    static int write(sqlite3_file* file, const void* from, int size, sqlite3_int64 at) {
        const Quiet own;
        MemoryDisk& disk = *of(file).disk;
        const std::string bytes{static_cast<const char*>(from), static_cast<std::size_t>(size)};
        if (fails(file, "sqlite write")) {
            // Half of it arrived before the disk gave up.
            disk.write_at(of(file).file, static_cast<std::size_t>(at), bytes.substr(0, bytes.size() / 2));
            return full_or(disk, SQLITE_IOERR_WRITE);
        }
        disk.write_at(of(file).file, static_cast<std::size_t>(at), bytes);
        return SQLITE_OK;
    }
    static int sync(sqlite3_file* file, int) {
        const Quiet own;
        // As SQLite's own layer: a sync that fails is that, whatever the cause.
        if (fails(file, "sqlite sync")) return SQLITE_IOERR_FSYNC;
        MemoryDisk& disk = *of(file).disk;
        disk.note({Change::Kind::Sync, of(file).file, 0, {}, {}, {}});
        if (std::exchange(of(file).syncs_folder, false))
            disk.note({Change::Kind::SyncFolder, -1, 0, {}, MemoryDisk::folder_of(disk.path_of(of(file).file)), {}});
        return SQLITE_OK;
    }
    static int map(sqlite3_file* file, int page, int size, int extend, void volatile** to) {
        const Quiet own;
        if (fails(file, "sqlite map")) return SQLITE_IOERR_SHMMAP;
        auto& shared = of(file).disk->shared[of(file).file];
        const auto wanted = static_cast<std::size_t>(page) + 1;
        *to = nullptr;
        if (shared.size() < wanted && extend == 0) return SQLITE_OK;
        while (shared.size() < wanted) shared.push_back(std::make_unique<char[]>(static_cast<std::size_t>(size)));
        *to = shared[static_cast<std::size_t>(page)].get();
        return SQLITE_OK;
    }

    static const sqlite3_io_methods& methods() {
        static const sqlite3_io_methods all = [] {
            sqlite3_io_methods m{};
            m.iVersion = 2;
            m.xClose = [](sqlite3_file*) { return SQLITE_OK; };
            m.xRead = &read;
            m.xWrite = &write;
            m.xTruncate = [](sqlite3_file* f, sqlite3_int64 size) {
                const Quiet own;
                if (fails(f, "sqlite truncate")) return SQLITE_IOERR_TRUNCATE;
                of(f).disk->cut(of(f).file, static_cast<std::size_t>(size));
                return SQLITE_OK;
            };
            m.xSync = &sync;
            m.xFileSize = [](sqlite3_file* f, sqlite3_int64* size) {
                const Quiet own;
                if (fails(f, "sqlite fstat")) return SQLITE_IOERR_FSTAT;
                *size = static_cast<sqlite3_int64>(bytes_of(f).bytes.size());
                return SQLITE_OK;
            };
            m.xLock = [](sqlite3_file* f, int) {
                const Quiet own;
                return fails(f, "sqlite lock") ? SQLITE_IOERR_LOCK : SQLITE_OK;
            };
            m.xUnlock = [](sqlite3_file*, int) { return SQLITE_OK; };
            m.xCheckReservedLock = [](sqlite3_file*, int* is) {
                *is = 0;
                return SQLITE_OK;
            };
            m.xFileControl = [](sqlite3_file*, int, void*) { return SQLITE_NOTFOUND; };
            m.xSectorSize = [](sqlite3_file*) { return 4096; };
            m.xDeviceCharacteristics = [](sqlite3_file*) { return SQLITE_IOCAP_POWERSAFE_OVERWRITE; };
            m.xShmMap = &map;
            m.xShmLock = [](sqlite3_file* f, int, int, int flags) {
                const Quiet own;
                const bool takes = (flags & SQLITE_SHM_LOCK) != 0;
                return takes && fails(f, "sqlite shared lock") ? SQLITE_IOERR_SHMLOCK : SQLITE_OK;
            };
            m.xShmBarrier = [](sqlite3_file*) {};
            m.xShmUnmap = [](sqlite3_file* f, int remove_it) {
                if (remove_it != 0) of(f).disk->shared.erase(of(f).file);
                return SQLITE_OK;
            };
            return m;
        }();
        return all;
    }

    std::string name_;
    sqlite3_vfs vfs_{};
};

}  // namespace wm::store::testing
