// Losses of power: the files that one recorded run may leave behind, for every moment of it and many
// ways of losing what was not synced, each opened again.
//
// Believed of the disk (memory_disk.hpp): of the bytes that no sync covers any part may be there, in
// any order, a write torn anywhere; of the names that no sync of their folder covers likewise, a
// rename whole or not at all. A point is one moment with one seed. Points that leave the same files
// are opened once and counted apart.
#pragma once

#include <sqlite3.h>

#include <algorithm>
#include <cstdint>
#include <functional>
#include <map>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "store/memory_vfs.hpp"

namespace wm::store::testing {

/// Names with their files, as a disk holds them.
using Image = std::map<std::string, std::shared_ptr<MemoryDisk::File>>;

inline Image image_of(const MemoryDisk& disk) {
    Image image;
    for (const auto& [name, file] : disk.names) image[name] = disk.files.at(file);
    return image;
}

/// Small and the same everywhere.
class Dice {
public:
    explicit Dice(std::uint64_t seed) : state_{seed * 0x9e3779b97f4a7c15ULL + 1} {}
    std::uint64_t next() {
        state_ ^= state_ << 13U;
        state_ ^= state_ >> 7U;
        state_ ^= state_ << 17U;
        return state_;
    }
    std::size_t below(std::size_t limit) { return limit == 0 ? 0 : static_cast<std::size_t>(next() % limit); }

private:
    std::uint64_t state_;
};

/// Follows the changes and makes images of what a loss of power leaves.
class Aftermath {
public:
    explicit Aftermath(const MemoryDisk& before) {
        for (const auto& [name, file] : before.names) {
            names_[name] = file;
            files_[file] = before.files.at(file);
        }
    }

    void go_on(const Change& change) {
        switch (change.kind) {
            case Change::Kind::Write:
            case Change::Kind::Cut:
                unsynced_[change.file].push_back(&change);
                break;
            case Change::Kind::Name:
                unsynced_names_.push_back(&change);
                break;
            case Change::Kind::Sync: {
                const auto found = unsynced_.find(change.file);
                if (found == unsynced_.end()) break;
                files_[change.file] = applied(change.file, found->second);
                unsynced_.erase(found);
                ++version_;
                break;
            }
            case Change::Kind::SyncFolder: {
                const auto here = [&](const Change* each) { return folder(*each) == change.name; };
                for (const Change* each : unsynced_names_)
                    if (here(each)) apply(*each, names_);
                std::erase_if(unsynced_names_, here);
                ++version_;
                break;
            }
            case Change::Kind::Mark:
                break;
        }
    }

    [[nodiscard]] bool all_is_synced() const { return unsynced_.empty() && unsynced_names_.empty(); }

    /// Fills the image and gives a word for it: the same word, the same files.
    std::string lose_power(Dice dice, Image& image) {
        std::string word = std::to_string(version_);
        auto names = names_;
        const std::size_t way = dice.below(4);
        std::size_t taken = way == 1 ? unsynced_names_.size() : dice.below(unsynced_names_.size() + 1);
        for (std::size_t i = 0; i < unsynced_names_.size(); ++i) {
            const bool kept = way == 0 ? false : way == 3 ? dice.below(2) == 0 : i < taken;
            if (!kept) continue;
            apply(*unsynced_names_[i], names);
            word += " n" + std::to_string(unsynced_names_[i] - unsynced_names_.front());
        }
        image.clear();
        for (const auto& [name, file] : names) {
            const auto pending = unsynced_.find(file);
            image[name] = pending == unsynced_.end() ? durable(file) : torn(file, pending->second, dice, word);
        }
        return word;
    }

private:
    using File = MemoryDisk::File;

    static std::string folder(const Change& change) {
        return MemoryDisk::folder_of(change.name.empty() ? change.old_name : change.name);
    }
    static void apply(const Change& change, std::map<std::string, FileNumber>& names) {
        if (!change.old_name.empty()) names.erase(change.old_name);
        if (!change.name.empty()) names[change.name] = change.file;
    }
    static void apply(const Change& change, std::string& bytes, std::size_t from, std::size_t size) {
        if (change.kind == Change::Kind::Cut) {
            bytes.resize(change.at);
            return;
        }
        if (bytes.size() < change.at + from + size) bytes.resize(change.at + from + size);
        bytes.replace(change.at + from, size, change.bytes, from, size);
    }
    std::shared_ptr<File> durable(FileNumber file) {
        auto& found = files_[file];
        if (!found) found = std::make_shared<File>();
        return found;
    }
    std::shared_ptr<File> applied(FileNumber file, const std::vector<const Change*>& changes) {
        auto whole = std::make_shared<File>();
        whole->bytes = durable(file)->bytes;
        for (const Change* each : changes) apply(*each, whole->bytes, 0, each->bytes.size());
        return whole;
    }
    std::shared_ptr<File> torn(FileNumber file, const std::vector<const Change*>& changes, Dice& dice, std::string& word) {
        const std::size_t way = dice.below(6);
        word += " f" + std::to_string(file) + ":";
        if (way == 0) return durable(file);
        auto whole = std::make_shared<File>();
        whole->bytes = durable(file)->bytes;
        const std::size_t first_lost = way == 1 ? changes.size() : dice.below(changes.size() + 1);
        for (std::size_t i = 0; i < changes.size(); ++i) {
            const Change& change = *changes[i];
            const bool scattered = way >= 4;
            const bool kept = scattered ? dice.below(2) == 0 : i < first_lost;
            const bool tears = change.bytes.size() > 1 && ((way == 3 && i == first_lost) || (way == 5 && dice.below(3) == 0));
            if (tears) {
                const std::size_t at = dice.below(change.bytes.size());
                const bool end = dice.below(2) == 0;  // the later sector may be there and the earlier not
                apply(change, whole->bytes, end ? at : 0, end ? change.bytes.size() - at : at);
                word += " t" + std::to_string(i) + (end ? ">" : "<") + std::to_string(at);
            } else if (kept) {
                apply(change, whole->bytes, 0, change.bytes.size());
                word += " k" + std::to_string(i);
            }
        }
        return whole;
    }

    std::map<std::string, FileNumber> names_;
    std::map<FileNumber, std::shared_ptr<File>> files_;
    std::map<FileNumber, std::vector<const Change*>> unsynced_;
    std::vector<const Change*> unsynced_names_;
    std::uint64_t version_ = 0;
};

/// What the tables of the journal hold after SQLite repaired them.
struct Recovered {
    bool is_readable = false;
    std::string cause;
    std::size_t entries = 0;  ///< how many
    bool is_prefix = true;    ///< their hashes are the first of those that were stored, in that order
    std::size_t word = 0;     ///< of all rows of all tables but caches
};

inline Recovered recovered(MemoryVfs& vfs, const std::string& name, const Image& image, const std::string& journal,
                           const std::vector<std::string>& stored) {
    Recovered found;
    found.is_readable = true;
    if (image.count(journal) == 0) return found;
    MemoryDisk disk{name};
    for (const auto& [path, file] : image) disk.put(path, file);
    vfs.work_on(&disk);
    sqlite3* database = nullptr;
    const auto read = [&](const char* sql, bool is_entry) {
        sqlite3_stmt* rows = nullptr;
        if (sqlite3_prepare_v2(database, sql, -1, &rows, nullptr) != SQLITE_OK) {
            // Before the first commit there are no tables.
            const std::string cause = sqlite3_errmsg(database);
            sqlite3_finalize(rows);
            return cause.find("no such table") != std::string::npos ? std::string{} : cause;
        }
        int code = SQLITE_ROW;
        while ((code = sqlite3_step(rows)) == SQLITE_ROW) {
            for (int column = 0; column < sqlite3_column_count(rows); ++column) {
                const void* bytes = sqlite3_column_blob(rows, column);
                const std::string_view text{static_cast<const char*>(bytes == nullptr ? "" : bytes),
                                            static_cast<std::size_t>(sqlite3_column_bytes(rows, column))};
                found.word = found.word * 1099511628211U + std::hash<std::string_view>{}(text);
                if (is_entry && column == 0) {
                    found.is_prefix = found.is_prefix && found.entries < stored.size() && stored[found.entries] == text;
                    ++found.entries;
                }
            }
        }
        const std::string cause = code == SQLITE_DONE ? "" : sqlite3_errmsg(database);
        sqlite3_finalize(rows);
        return cause;
    };
    int code = sqlite3_open_v2(journal.c_str(), &database, SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX, name.c_str());
    if (code == SQLITE_OK) sqlite3_db_config(database, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    found.cause = code == SQLITE_OK ? read("SELECT hash, device, seq, prev, time, job, body FROM entry ORDER BY rowid", true)
                                    : sqlite3_errmsg(database);
    for (const char* sql : {"SELECT * FROM head ORDER BY device, seq", "SELECT * FROM personal ORDER BY commitment",
                            "SELECT * FROM attachment ORDER BY id", "SELECT * FROM erased ORDER BY customer"})
        if (found.cause.empty()) found.cause = read(sql, false);
    found.is_readable = found.cause.empty();
    sqlite3_close(database);
    return found;
}

/// What a run promised.
struct Promised {
    std::vector<std::string> entries;  ///< hashes in the order they were stored
    std::vector<std::size_t> counts;   ///< entries after the n-th intent; the first is 0, before any
};

struct Tally {
    std::size_t points = 0;
    std::size_t images = 0;  ///< that differ
    std::size_t states = 0;  ///< of the journal and its files that differ, each opened whole
    std::vector<std::string> faults;
};

/// Opens what is left whole: chain, files, fold. `intents` is the number of intents it holds. Empty
/// when all is well.
using OpenWhole = std::function<std::string(const Image& image, std::size_t intents)>;

/// `before` is the disk as the recording began. Stops after ten faults.
inline Tally lose_power(MemoryVfs& vfs, const MemoryDisk& before, const std::vector<Change>& changes,
                        const Promised& promised, const std::string& journal, std::size_t seeds,
                        const OpenWhole& open_whole) {
    struct Known {
        std::size_t entries = 0;
        std::string fault;
    };
    Tally tally;
    Aftermath aftermath{before};
    std::unordered_map<std::string, Known> known;
    std::unordered_map<std::size_t, std::string> opened;
    // Pictures are large and hardly ever torn: each is hashed once and held, so that its address stays its own.
    std::unordered_map<const MemoryDisk::File*, std::pair<std::shared_ptr<MemoryDisk::File>, std::size_t>> word_of_file;
    const auto word_of = [&](const std::shared_ptr<MemoryDisk::File>& file) {
        if (file.use_count() == 1) return std::hash<std::string>{}(file->bytes);  // torn, and never met again
        const auto [at, is_new] = word_of_file.try_emplace(file.get());
        if (is_new) at->second = {file, std::hash<std::string>{}(file->bytes)};
        return at->second.second;
    };
    std::size_t acknowledged = 0;
    const auto look = [&](const Image& image) {
        const Recovered found = recovered(vfs, before.vfs(), image, journal, promised.entries);
        Known seen{found.entries, {}};
        if (!found.is_readable) seen.fault = "the journal cannot be read: " + found.cause;
        else if (!found.is_prefix)
            seen.fault = "the entries are no prefix of those that were stored";
        const auto intent = std::find(promised.counts.rbegin(), promised.counts.rend(), found.entries);
        if (seen.fault.empty() && intent == promised.counts.rend()) seen.fault = "half of an intent is there";
        if (!seen.fault.empty()) return seen;
        std::size_t word = found.word;
        for (const auto& [name, file] : image)
            if (!name.starts_with(journal)) word = ((word ^ std::hash<std::string>{}(name)) * 1099511628211U ^ word_of(file)) * 1099511628211U;
        const auto [at, is_new] = opened.emplace(word, std::string{});
        if (is_new) at->second = open_whole(image, static_cast<std::size_t>(promised.counts.rend() - intent) - 1);
        seen.fault = at->second;
        return seen;
    };
    std::vector<Image> made(1);
    for (std::size_t cut = 0; cut < changes.size() && tally.faults.size() < 10; ++cut) {
        aftermath.go_on(changes[cut]);
        if (changes[cut].kind == Change::Kind::Mark) acknowledged = changes[cut].at;
        for (std::size_t seed = 0; seed < (aftermath.all_is_synced() ? 1 : seeds); ++seed) {
            ++tally.points;
            Image& image = made.front();
            const std::string word = aftermath.lose_power(Dice{cut * 7919 + seed}, image);
            auto found = known.find(word);
            if (found == known.end()) found = known.emplace(word, look(image)).first;
            const Known& seen = found->second;
            if (!seen.fault.empty()) {
                tally.faults.push_back("after change " + std::to_string(cut) + ", seed " + std::to_string(seed) + ": " + seen.fault);
                break;
            }
            if (seen.entries < promised.counts[acknowledged]) {
                tally.faults.push_back("after change " + std::to_string(cut) + ", seed " + std::to_string(seed) + ": " +
                                       std::to_string(promised.counts[acknowledged]) + " entries were acknowledged and " +
                                       std::to_string(seen.entries) + " are there");
                break;
            }
        }
        // Words of images long gone only cost memory.
        if (known.size() > 200'000) {
            tally.images += known.size();
            known.clear();
            word_of_file.clear();
        }
    }
    tally.images += known.size();
    tally.states = opened.size();
    return tally;
}

}  // namespace wm::store::testing
