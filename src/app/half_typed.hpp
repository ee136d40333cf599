// What is half typed in the window, kept in half-typed.txt with each key press, to be there again after a kill.
//
// One line, job and check first: "J-1A2B-0001<tab>ladder-set<tab>…". Behind them stands what was typed, in the clear
// while nobody has a PIN (screens::written()), else "sealed" and a box under the sealing key (store/people.hpp), in
// hexadecimal digits. Job and check stay in the clear so that an erasure finds the file, and the window its place.
// An empty file: nothing is half typed. In place of the check stands a word of screens/world.hpp where a signer's name or
// a call is written.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "problem/result.hpp"
#include "screens/world.hpp"
#include "store/keys.hpp"

namespace wm::app {

inline constexpr const char* half_typed_file = "half-typed.txt";

/// What seals it; the key is empty while nobody has a PIN.
struct Sealing {
    std::string key;
    store::RandomBytes random;
};

[[nodiscard]] Result<void> keep_half_typed(const std::filesystem::path& data, const screens::KeptNumber& number, const Sealing& sealing);

/// Nothing where nothing is half typed. Problem: it cannot be opened, or is none of ours; it is left where it is until
/// something else is typed.
[[nodiscard]] Result<std::optional<screens::KeptNumber>> read_half_typed(const std::filesystem::path& data, const std::string& sealing_key);

/// Where it was typed, sealed or not; without words.
[[nodiscard]] std::optional<screens::KeptNumber> place_of_half_typed(const std::filesystem::path& data);

/// One that lies there in the clear is sealed: after the first PIN.
[[nodiscard]] Result<void> seal_half_typed(const std::filesystem::path& data, const Sealing& sealing);

}  // namespace wm::app
