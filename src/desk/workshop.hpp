// Where the quality lead keeps the checklists: a changed text is looked at, compared, replayed and published.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "desk/desk.hpp"
#include "desk/workshop_view.hpp"

namespace wm::desk {

enum class Over { NoPast, AllPast };

/// The text of a list as it is published; refused for a name nobody knows.
[[nodiscard]] Result<std::string> published_text(const LibraryTexts& published, std::string_view checklist);
[[nodiscard]] Result<std::string> published_text(const Desk& desk, std::string_view checklist);

/// What the text would mean beside the published lists. `library` is what they were read as.
[[nodiscard]] WorkshopView looked_at(const LibraryTexts& published, const checklist::Library& library, const std::string& text);
/// The same at a desk. Nothing is written. `AllPast` judges all past readings again (replay.hpp).
[[nodiscard]] Result<WorkshopView> looked_at(Desk& desk, const std::string& text, Over past);

/// What a publication came to.
struct PublishedView {
    std::string checklist;
    int version = 0;
    std::string file;  ///< where it lies: checklists/<name>.toml of the data folder
};

/// Publishes the text as the next version of its list, with today's day and that reason: new jobs are opened with it,
/// jobs that are open keep theirs. The version before stays as checklists/earlier/<name>-v<n>.toml, and published.txt
/// there names day, version, hash, who and why. Only a lead may. Refused: errors in the text, nothing changed, no reason,
/// a list whose name is not that of the file it would be.
[[nodiscard]] Result<PublishedView> publish(Desk& desk, const std::string& text, const std::string& why);

/// The lists that were published here, as texts by file name. A file that cannot be read as a checklist is refused by its path.
[[nodiscard]] Result<LibraryTexts> published_here(const std::filesystem::path& data, store::Disk& disk);

}  // namespace wm::desk
