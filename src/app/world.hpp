// What only this room asks of the world: clock, random source, environment, paths, files.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "app/arguments.hpp"
#include "checklist/document.hpp"
#include "desk/desk.hpp"
#include "problem/result.hpp"

namespace wm::app {

/// Milliseconds since 1970-01-01 UTC as this machine shows them.
[[nodiscard]] std::int64_t machine_wall_ms();

struct World {
    std::function<desk::Moment()> now;
    /// What the machine counted since its start, asleep or not; nothing under --at.
    std::function<std::optional<record::SinceBoot>()> since_boot = {};
    record::TimeSource time_source = record::TimeSource::Clock;  ///< Hand under --at
    store::RandomBytes random;
    std::filesystem::path data;   ///< --data, else the XDG data folder
    std::filesystem::path share;  ///< holds checklists/, assets/ and perhaps fonts/
    std::string person = {};             ///< --person, else WITNESSMARK_PERSON; may be empty
    /// What went wrong beside the work, for stderr: a backup that was not made stops nobody.
    std::shared_ptr<std::string> told = std::make_shared<std::string>();
    /// For the delays of PINs: the machine's own clock, whatever --at says.
    std::function<std::int64_t()> wall_ms = [] { return machine_wall_ms(); };
    std::filesystem::path pin_file = {};  ///< --pin-file, else WITNESSMARK_PIN_FILE; empty = no PIN was given
};

/// Of the machine, with --data and --at. Kind WrongUse for a time that is none.
[[nodiscard]] Result<World> world_for(const Arguments& arguments);

/// A source that gives the same bytes for the same seed. For the demo only: whoever knows the seed
/// knows the keys.
[[nodiscard]] store::RandomBytes seeded_random(std::string seed);

[[nodiscard]] Result<std::string> read_file(const std::filesystem::path& file);
/// Written beside, synced and moved into place, so that no half file is ever left.
[[nodiscard]] Result<void> write_file(const std::filesystem::path& file, std::string_view bytes);

[[nodiscard]] Result<desk::LibraryTexts> library_texts(const World& world);

/// The text `table`.`key` of a document; `otherwise` where it is missing or is no text.
[[nodiscard]] std::string word_at(const checklist::Item& document, std::string_view table, std::string_view key,
                                  std::string otherwise);

/// settings.toml (places.hpp says where) over the defaults.
[[nodiscard]] Result<desk::Setup> setup_for(const World& world, desk::Access access);
/// Where persons have PINs: that the one of the command line was given, and is a lead's or an owner's. `act` completes
/// "Only a lead may …". A list of persons that cannot be read asks nobody: then the folder is damaged, and nothing opens it.
[[nodiscard]] Result<void> must_be_lead(const World& world, std::string_view act);

/// A desk for the person of that name and PIN, to write with; the try is counted.
[[nodiscard]] Result<desk::Desk> desk_of_person(const World& world, const std::string& name, std::string_view pin);

/// Where persons have PINs, the one that was given is tried first; nothing is ever asked.
/// `stamp_server`, if not "", goes before the one of the settings.
/// The first writing of a day makes a backup before; what went wrong with it stands in `world.told`.
enum class Daily { BackUp, LeaveOut };
[[nodiscard]] Result<desk::Desk> open_desk(const World& world, desk::Access access, const std::string& stamp_server = "",
                                           Daily daily = Daily::BackUp);

}  // namespace wm::app
