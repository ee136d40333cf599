// What the quality lead keeps in order: instruments with their calibrations, people with their papers, checklists in use.
#pragma once

#include <optional>
#include <string_view>

#include "desk/desk.hpp"
#include "desk/register_table.hpp"

namespace wm::desk {

[[nodiscard]] std::string_view in_words(Register which);
[[nodiscard]] std::optional<Register> register_named(std::string_view word);

/// Gathered from all jobs that can be read, practice left out. Instruments: each calibration that a job was begun with, and
/// whether the instrument may be read on today. People: who led crews, with their papers and, where PINs are, their role;
/// papers of a person are personal and are missing where the customer is erased. Checklists: the shipped ones, and with
/// which versions jobs were done. A problem: the journal cannot be read.
[[nodiscard]] Result<RegisterTable> register_table(Desk& desk, Register which);

}  // namespace wm::desk
