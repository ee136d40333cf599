// A disk that fails on demand: a SQLite VFS that counts writes and syncs and lets the n-th one
// fail.
#pragma once

#include <sqlite3.h>

#include <cstring>
#include <string>

namespace wm::store::testing {

enum class Failing { Write, Sync };

/// Registered under `name` while it lives. Only one at a time.
class FailingVfs {
public:
    static constexpr const char* name = "wm-failing";

    FailingVfs() {
        plan() = {};
        base() = sqlite3_vfs_find(nullptr);
        static sqlite3_vfs vfs;
        vfs = *base();
        vfs.zName = name;
        vfs.pNext = nullptr;
        vfs.szOsFile = static_cast<int>(sizeof(File)) + base()->szOsFile;
        vfs.xOpen = &open;
        sqlite3_vfs_register(&vfs, 0);
        registered_ = &vfs;
    }
    FailingVfs(const FailingVfs&) = delete;
    FailingVfs& operator=(const FailingVfs&) = delete;
    ~FailingVfs() { sqlite3_vfs_unregister(registered_); }

    /// From now on the n-th call of that kind fails with `code`; `n` = 0 lets all pass.
    void fail(Failing what, int n, int code) { plan() = {what, n, code, 0, 0}; }
    /// Calls of that kind since the last fail().
    [[nodiscard]] int calls(Failing what) const {
        return what == Failing::Write ? plan().writes : plan().syncs;
    }
    [[nodiscard]] bool has_failed() const { return plan().n > 0 && calls(plan().what) >= plan().n; }

private:
    struct Plan {
        Failing what = Failing::Write;
        int n = 0;
        int code = 0;
        int writes = 0;
        int syncs = 0;
    };
    /// The real file lies behind ours in memory.
    struct File {
        sqlite3_file base;
    };

    static Plan& plan() {
        static Plan the_plan;
        return the_plan;
    }
    static sqlite3_vfs*& base() {
        static sqlite3_vfs* the_base = nullptr;
        return the_base;
    }
    static sqlite3_file* real(sqlite3_file* file) {
        return reinterpret_cast<sqlite3_file*>(reinterpret_cast<File*>(file) + 1);
    }

    static int write(sqlite3_file* file, const void* bytes, int size, sqlite3_int64 at) {
        const bool fails = ++plan().writes == plan().n && plan().what == Failing::Write;
        if (fails && plan().code == SQLITE_IOERR_WRITE && size > 1) {
            // A torn write: half of it reaches the disk.
            real(file)->pMethods->xWrite(real(file), bytes, size / 2, at);
        }
        return fails ? plan().code : real(file)->pMethods->xWrite(real(file), bytes, size, at);
    }
    static int sync(sqlite3_file* file, int flags) {
        const bool fails = ++plan().syncs == plan().n && plan().what == Failing::Sync;
        return fails ? plan().code : real(file)->pMethods->xSync(real(file), flags);
    }

    static int open(sqlite3_vfs*, const char* path, sqlite3_file* file, int flags, int* out) {
        const int code = base()->xOpen(base(), path, real(file), flags, out);
        static sqlite3_io_methods methods;
        methods.iVersion = 2;
        methods.xClose = [](sqlite3_file* f) { return real(f)->pMethods->xClose(real(f)); };
        methods.xRead = [](sqlite3_file* f, void* to, int size, sqlite3_int64 at) {
            return real(f)->pMethods->xRead(real(f), to, size, at);
        };
        methods.xWrite = &write;
        methods.xTruncate = [](sqlite3_file* f, sqlite3_int64 size) {
            return real(f)->pMethods->xTruncate(real(f), size);
        };
        methods.xSync = &sync;
        methods.xFileSize = [](sqlite3_file* f, sqlite3_int64* size) {
            return real(f)->pMethods->xFileSize(real(f), size);
        };
        methods.xLock = [](sqlite3_file* f, int l) { return real(f)->pMethods->xLock(real(f), l); };
        methods.xUnlock = [](sqlite3_file* f, int l) {
            return real(f)->pMethods->xUnlock(real(f), l);
        };
        methods.xCheckReservedLock = [](sqlite3_file* f, int* is) {
            return real(f)->pMethods->xCheckReservedLock(real(f), is);
        };
        methods.xFileControl = [](sqlite3_file* f, int what, void* with) {
            return real(f)->pMethods->xFileControl(real(f), what, with);
        };
        methods.xSectorSize = [](sqlite3_file* f) {
            return real(f)->pMethods->xSectorSize(real(f));
        };
        methods.xDeviceCharacteristics = [](sqlite3_file* f) {
            return real(f)->pMethods->xDeviceCharacteristics(real(f));
        };
        methods.xShmMap = [](sqlite3_file* f, int page, int size, int extend, void volatile** to) {
            return real(f)->pMethods->xShmMap(real(f), page, size, extend, to);
        };
        methods.xShmLock = [](sqlite3_file* f, int at, int n, int how) {
            return real(f)->pMethods->xShmLock(real(f), at, n, how);
        };
        methods.xShmBarrier = [](sqlite3_file* f) { real(f)->pMethods->xShmBarrier(real(f)); };
        methods.xShmUnmap = [](sqlite3_file* f, int remove) {
            return real(f)->pMethods->xShmUnmap(real(f), remove);
        };
        file->pMethods = real(file)->pMethods == nullptr ? nullptr : &methods;
        return code;
    }

    sqlite3_vfs* registered_ = nullptr;
};

}  // namespace wm::store::testing
