#include "store/people.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "digest/box.hpp"
#include "digest/document.hpp"
#include "digest/hash.hpp"
#include "store/files.hpp"

namespace wm::store {
namespace {

namespace fs = std::filesystem;
using digest::Document;

constexpr std::int64_t second_ms = 1000;
constexpr std::int64_t longest_delay_ms = 15 * 60 * second_ms;
constexpr std::int64_t patience_ms = 60 * second_ms;  // each try works on its PIN for a fraction of a second

digest::BoxKey pin_box(std::string key, const Person& person) {
    return {std::move(key), fmt::format("pin of {} {}", word_of(person.role), person.name)};
}

tl::unexpected<Problem> damaged(const fs::path& file) {
    return refused({.what = "The list of persons is damaged.",
                    .where = file.string(),
                    .what_to_do = "Restore the folder keys from a backup; entries are not touched by it.",
                    .kind = ProblemKind::Unreadable});
}

tl::unexpected<Problem> not_let_in(std::string what, std::string to_do) {
    return refused({std::move(what), "access", std::move(to_do), ProblemKind::Refused});
}

std::string text_at(const Document& document, std::string_view name) {
    const Document* found = document.find(name);
    const std::string* text = found == nullptr ? nullptr : found->text();
    return text == nullptr ? "" : *text;
}

std::int64_t number_at(const Document& document, std::string_view name) {
    const Document* found = document.find(name);
    const std::int64_t* number = found == nullptr ? nullptr : found->integer();
    return number == nullptr ? 0 : *number;
}

/// The array `name` of a file in keys/; nullopt without the file.
Result<std::optional<Document::Array>> read_array(const fs::path& file, std::string_view name, Disk& disk) {
    const auto there = look_at_file(file, disk);
    if (!there) return refused(there.error());
    if (!*there) return std::optional<Document::Array>{};
    const auto text = read_file(file, disk);
    if (!text) return refused(text.error());
    const auto document = digest::read_canonical(*text, file.string());
    const Document* found = document ? document->find(name) : nullptr;
    if (found == nullptr || found->items() == nullptr) return damaged(file);
    return *found->items();
}

Result<void> write_array(const fs::path& file, std::string_view name, Document::Array items, Disk& disk) {
    Document document = Document::object();
    document.set(name, Document{std::move(items)});
    const auto text = digest::canonical_text(document);
    if (!text) return refused(text.error());
    return write_file(file, *text, disk);
}

// A wait that lies further off than any delay was counted by a clock that was set back since: it begins anew.
std::int64_t waits_until(std::int64_t not_before_ms, std::int64_t wrong, std::int64_t wall_ms) {
    return not_before_ms <= wall_ms + longest_delay_ms ? not_before_ms : wall_ms + delay_after(wrong);
}

std::string waiting(std::int64_t ms) {
    const std::int64_t seconds = (ms + second_ms - 1) / second_ms;
    return seconds < 120 ? fmt::format("{} s", seconds) : fmt::format("{} min", (seconds + 59) / 60);
}

}  // namespace

std::string_view word_of(Role role) {
    switch (role) {
        case Role::Installer:
            return "installer";
        case Role::Lead:
            return "lead";
        case Role::Owner:
            return "owner";
    }
    return "";
}

std::optional<Role> role_named(std::string_view word) {
    for (const Role role : {Role::Installer, Role::Lead, Role::Owner})
        if (word == word_of(role)) return role;
    return std::nullopt;
}

std::int64_t delay_after(std::int64_t wrong_pins) {
    if (wrong_pins < 3) return 0;
    std::int64_t delay = 30 * second_ms;
    for (std::int64_t i = 3; i < wrong_pins && delay < longest_delay_ms; ++i) delay *= 2;
    return std::min(delay, longest_delay_ms);
}

Result<void> check_new_pin(std::string_view pin) {
    const auto too_easy = [](std::string what) {
        return refused({std::move(what), "the new PIN", "Choose at least six digits or letters that follow no row.",
                        ProblemKind::WrongUse});
    };
    if (pin.size() < 6) return too_easy("The PIN is shorter than six characters.");
    if (pin.size() > 200) return too_easy("The PIN is longer than 200 characters.");
    const auto steps_by = [&](int step) {
        for (std::size_t i = 1; i < pin.size(); ++i)
            if (pin[i] - pin[i - 1] != step) return false;
        return true;
    };
    if (steps_by(0)) return too_easy("The PIN is one character again and again.");
    if (steps_by(1) || steps_by(-1)) return too_easy("The PIN is a plain row.");
    return {};
}

Result<People> People::read(const fs::path& folder, Disk& disk) {
    People people;
    people.folder_ = folder / "keys";
    people.disk_ = &disk;
    if (auto done = people.read_people(); !done) return refused(done.error());
    if (auto done = people.read_tries(); !done) return refused(done.error());
    return people;
}

Result<void> People::read_people() {
    const fs::path file = folder_ / "people.json";
    const auto items = read_array(file, "people", *disk_);
    if (!items) return refused(items.error());
    if (!*items) return {};
    for (const Document& item : **items) {
        const auto role = role_named(text_at(item, "role"));
        const auto salt = digest::from_hex(text_at(item, "salt"));
        const auto box = digest::from_hex(text_at(item, "box"));
        const std::string name = text_at(item, "name");
        const std::int64_t passes = number_at(item, "passes");
        const std::int64_t memory = number_at(item, "memory_kib");
        if (!role || !salt || !box || name.empty() || passes < 1 || memory < 1) return damaged(file);
        kept_.push_back({{name, *role},
                         *salt,
                         {static_cast<std::uint64_t>(passes), static_cast<std::uint64_t>(memory)},
                         *box});
    }
    if (kept_.empty()) return damaged(file);
    return {};
}

Result<void> People::read_tries() {
    const fs::path file = folder_ / "tries.json";
    const auto items = read_array(file, "tries", *disk_);
    if (!items) return refused(items.error());
    tries_.clear();
    if (!*items) return {};
    for (const Document& item : **items)
        tries_.push_back({text_at(item, "name"), number_at(item, "wrong"), number_at(item, "not_before_ms")});
    return {};
}

Result<void> People::write_people() const {
    Document::Array items;
    for (const Kept& kept : kept_) {
        Document item = Document::object();
        item.set("name", Document{kept.person.name});
        item.set("role", Document{word_of(kept.person.role)});
        item.set("salt", Document{digest::to_hex(kept.salt)});
        item.set("passes", Document{static_cast<std::int64_t>(kept.cost.passes)});
        item.set("memory_kib", Document{static_cast<std::int64_t>(kept.cost.memory_kib)});
        item.set("box", Document{digest::to_hex(kept.box)});
        items.push_back(std::move(item));
    }
    return write_array(folder_ / "people.json", "people", std::move(items), *disk_);
}

Result<void> People::write_tries() const {
    Document::Array items;
    for (const Tries& tries : tries_) {
        Document item = Document::object();
        item.set("name", Document{tries.name});
        item.set("wrong", Document{tries.wrong});
        item.set("not_before_ms", Document{tries.not_before_ms});
        items.push_back(std::move(item));
    }
    return write_array(folder_ / "tries.json", "tries", std::move(items), *disk_);
}

std::vector<Person> People::all() const {
    std::vector<Person> persons;
    for (const Kept& kept : kept_) persons.push_back(kept.person);
    return persons;
}

const Person* People::find(std::string_view name) const {
    const auto found =
        std::find_if(kept_.begin(), kept_.end(), [&](const Kept& kept) { return kept.person.name == name; });
    return found == kept_.end() ? nullptr : &found->person;
}

std::int64_t People::not_before_ms(std::string_view name, std::int64_t wall_ms) const {
    for (const Tries& tries : tries_)
        if (tries.name == name) return waits_until(tries.not_before_ms, tries.wrong, wall_ms);
    return 0;
}

People::Tries& People::tries_of(std::string_view name) {
    for (Tries& tries : tries_)
        if (tries.name == name) return tries;
    return tries_.emplace_back(Tries{std::string{name}, 0, 0});
}

Result<Unlocked> People::unlocked(std::string_view name, std::string_view pin, std::int64_t wall_ms) {
    if (name.empty() && kept_.size() == 1) name = kept_.front().person.name;
    const auto kept =
        std::find_if(kept_.begin(), kept_.end(), [&](const Kept& each) { return each.person.name == name; });
    if (kept == kept_.end()) {
        return not_let_in(name.empty() ? "It was not said whose PIN this is."
                                       : fmt::format("Nobody called \"{}\" has a PIN here.", name),
                          "Say who you are with --person NAME; an owner can give you a PIN.");
    }
    // One try at a time, and each begins with what the others have counted.
    const auto turn = WriterLock::taken(folder_ / "tries.lock", *disk_, patience_ms);
    if (!turn) return refused(turn.error());
    if (auto done = read_tries(); !done) return refused(done.error());
    Tries& tries = tries_of(kept->person.name);
    // A clock that was put right must not shut anybody out for longer than the longest delay.
    if (const std::int64_t until = waits_until(tries.not_before_ms, tries.wrong, wall_ms); until != tries.not_before_ms) {
        tries.not_before_ms = until;
        if (auto done = write_tries(); !done) return refused(done.error());
    }
    const std::int64_t left = tries.not_before_ms - wall_ms;
    if (left > 0) {
        return not_let_in(fmt::format("After {} wrong PINs the next can be tried in {}.", tries.wrong, waiting(left)),
                          "Wait, or let another person unlock it. Nothing is deleted by wrong PINs.");
    }
    ++tries.wrong;
    const std::int64_t delay_from_here = delay_after(tries.wrong);
    tries.not_before_ms = delay_from_here > 0 ? wall_ms + delay_from_here : 0;
    if (auto done = write_tries(); !done) return refused(done.error());
    auto key = digest::key_of_pin(pin, kept->salt, kept->cost);
    if (!key) return refused(key.error());
    auto sealing_key = digest::unlock(pin_box(*key, kept->person), kept->box, "the PIN");
    digest::wipe(*key);
    if (!sealing_key) {
        const std::int64_t delay = tries.not_before_ms - wall_ms;
        return not_let_in(fmt::format("This is not the PIN of {}.", kept->person.name),
                          delay > 0 ? fmt::format("The next one can be tried in {}. Nothing is deleted by wrong PINs.",
                                                  waiting(delay))
                                    : "Try again; after the third wrong one each try has to wait.");
    }
    tries.wrong = 0;
    tries.not_before_ms = 0;
    if (auto done = write_tries(); !done) return refused(done.error());
    return Unlocked{kept->person, std::move(*sealing_key)};
}

Result<void> People::put(const Person& person, std::string_view pin, const std::string& sealing_key,
                         const RandomBytes& random, const digest::PinCost& cost) {
    if (auto fine = check_new_pin(pin); !fine) return fine;
    if (person.name.empty() || (kept_.empty() && person.role != Role::Owner)) {
        return refused({.what = person.name.empty() ? "The person has no name." : "The first person must be an owner.",
                        .where = "access",
                        .what_to_do = "Give a name and the role owner; others can be added afterwards.",
                        .kind = ProblemKind::WrongUse});
    }
    const Person* before = find(person.name);
    if (before != nullptr && before->role == Role::Owner && person.role != Role::Owner) {
        const auto owners = std::count_if(kept_.begin(), kept_.end(), [](const Kept& each) {
            return each.person.role == Role::Owner;
        });
        if (owners == 1) return not_let_in("The last owner stays an owner.", "Make another person an owner first.");
    }
    Kept kept{person, random(digest::pin_salt_bytes), cost, {}};
    auto key = digest::key_of_pin(pin, kept.salt, cost);
    if (!key) return refused(key.error());
    auto box = digest::lock(pin_box(*key, person), random(digest::box_nonce_bytes), sealing_key);
    digest::wipe(*key);
    if (!box) return refused(box.error());
    kept.box = std::move(*box);
    auto kept_before = kept_;
    std::erase_if(kept_, [&](const Kept& each) { return each.person.name == person.name; });
    kept_.push_back(std::move(kept));
    auto written = write_people();
    if (!written) kept_ = std::move(kept_before);
    return written;
}

Result<void> People::remove(std::string_view name) {
    const Person* person = find(name);
    if (person == nullptr)
        return not_let_in(fmt::format("Nobody called \"{}\" has a PIN here.", name), "See witnessmark access list.");
    const auto owners = std::count_if(kept_.begin(), kept_.end(),
                                      [](const Kept& each) { return each.person.role == Role::Owner; });
    if (person->role == Role::Owner && owners == 1)
        return not_let_in("The last owner stays.", "Make another person an owner first.");
    auto kept_before = kept_;
    std::erase_if(kept_, [&](const Kept& each) { return each.person.name == name; });
    auto written = write_people();
    if (!written) kept_ = std::move(kept_before);
    return written;
}

}  // namespace wm::store
