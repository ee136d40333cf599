// Who may use a data folder: persons with a role, each with a PIN that opens the sealing key.
//
// keys/people.json (canonical JSON) holds for each person name, role, salt, cost and a box: the sealing
// key locked (AES-256-GCM) under Argon2id of the PIN, for the purpose "pin of <role> <name>", so that a
// role that was edited in the file no longer opens. keys/tries.json counts wrong PINs and says when the
// next may be tried. Neither holds a PIN or anything made of it alone. Wrong PINs cost time and nothing
// else: nothing is ever deleted because of them. Who holds a copy of the folder can try PINs without
// the delays; only the length of the PIN and the cost of each try stand against that.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "digest/pin.hpp"
#include "problem/result.hpp"
#include "store/disk.hpp"
#include "store/keys.hpp"

namespace wm::store {

/// Each may do what those before it may.
/// Installer: all work on jobs of the own crew. Lead: concede, erase a customer. Owner: people.
enum class Role { Installer, Lead, Owner };

[[nodiscard]] std::string_view word_of(Role role);  ///< "installer", "lead", "owner"
[[nodiscard]] std::optional<Role> role_named(std::string_view word);

struct Person {
    std::string name;
    Role role = Role::Installer;
    friend bool operator==(const Person&, const Person&) = default;
};

struct Unlocked {
    Person person;
    std::string sealing_key;  ///< 32 bytes
};

/// Milliseconds to wait after so many wrong PINs in a row: nothing for the first two, then 30 s, and
/// twice as long each time up to a quarter of an hour.
[[nodiscard]] std::int64_t delay_after(std::int64_t wrong_pins);

/// Six characters or more, not one character repeated and not a row like 123456. Problem (kind
/// WrongUse) says which.
[[nodiscard]] Result<void> check_new_pin(std::string_view pin);

class People {
public:
    /// Of a data folder. No file means that nobody has a PIN yet.
    [[nodiscard]] static Result<People> read(const std::filesystem::path& folder,
                                             Disk& disk = system_disk());

    [[nodiscard]] bool empty() const { return kept_.empty(); }
    [[nodiscard]] std::vector<Person> all() const;
    [[nodiscard]] const Person* find(std::string_view name) const;
    /// When the person may try the next PIN, as of the last reading; never further off than the longest delay.
    [[nodiscard]] std::int64_t not_before_ms(std::string_view name, std::int64_t wall_ms) const;

    /// The sealing key for the right PIN. The try is counted, durably, before the PIN is looked at,
    /// so that ending the program does not take it back; tries of several programs at once wait for
    /// each other. `name` may be empty with one person only.
    /// Kind Refused for a wrong PIN, an unknown person, or while a delay runs.
    [[nodiscard]] Result<Unlocked> unlocked(std::string_view name, std::string_view pin,
                                            std::int64_t wall_ms);

    /// Adds a person or replaces PIN and role of one, and writes the file. The first is an owner.
    [[nodiscard]] Result<void> put(const Person& person, std::string_view pin,
                                   const std::string& sealing_key, const RandomBytes& random,
                                   const digest::PinCost& cost = {});
    /// The last owner stays.
    [[nodiscard]] Result<void> remove(std::string_view name);

private:
    struct Kept {
        Person person;
        std::string salt;
        digest::PinCost cost;
        std::string box;
    };
    struct Tries {
        std::string name;
        std::int64_t wrong = 0;
        std::int64_t not_before_ms = 0;
    };
    People() = default;
    [[nodiscard]] Result<void> read_people();
    [[nodiscard]] Result<void> read_tries();
    [[nodiscard]] Result<void> write_people() const;
    [[nodiscard]] Result<void> write_tries() const;
    [[nodiscard]] Tries& tries_of(std::string_view name);

    std::filesystem::path folder_;
    Disk* disk_ = nullptr;
    std::vector<Kept> kept_;
    std::vector<Tries> tries_;
};

}  // namespace wm::store
