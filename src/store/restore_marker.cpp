#include "store/restore_marker.hpp"

#include "digest/document.hpp"
#include "store/files.hpp"

namespace wm::store {
namespace {

namespace fs = std::filesystem;
using digest::Document;

fs::path file_in(const fs::path& folder) {
    return folder / "restore.json";
}

std::string text_in(const Document& document, std::string_view name) {
    const Document* member = document.find(name);
    return member != nullptr && member->text() != nullptr ? *member->text() : std::string{};
}

}  // namespace

Result<std::optional<RestoreMarker>> read_restore_marker(const fs::path& folder, Disk& disk) {
    const auto there = look_at_file(file_in(folder), disk);
    if (!there) return refused(there.error());
    if (!*there) return std::optional<RestoreMarker>{};
    const auto text = read_file(file_in(folder), disk);
    if (!text) return refused(text.error());
    const auto document = digest::read_canonical(*text, file_in(folder).string());
    if (!document) return refused(document.error());
    RestoreMarker marker;
    marker.step = text_in(*document, "step") == "placed" ? RestoreStep::Placed : RestoreStep::Begun;
    marker.predecessor = text_in(*document, "predecessor");
    marker.aside = text_in(*document, "aside");
    if (const Document* erased = document->find("erased"); erased != nullptr && erased->items() != nullptr)
        for (const Document& each : *erased->items())
            if (each.text() != nullptr) marker.erased.push_back(*each.text());
    return marker;
}

Result<void> write_restore_marker(const fs::path& folder, const RestoreMarker& marker, Disk& disk) {
    Document erased = Document::array();
    for (const std::string& each : marker.erased) erased.add(Document{each});
    const auto text = digest::canonical_text(
        Document::object()
            .set("aside", Document{marker.aside})
            .set("erased", std::move(erased))
            .set("predecessor", Document{marker.predecessor})
            .set("step", Document{marker.step == RestoreStep::Placed ? "placed" : "begun"}));
    if (!text) return refused(text.error());
    return write_file(file_in(folder), *text, disk);
}

Result<void> remove_restore_marker(const fs::path& folder, Disk& disk) {
    return remove_file(file_in(folder), disk);
}

Result<void> not_half_restored(const std::optional<RestoreMarker>& marker, const fs::path& folder) {
    if (!marker || marker->step == RestoreStep::Placed) return {};
    return refused({.what = "A restore of this folder was cut short.",
                    .where = folder.string(),
                    .what_to_do = "Do it again: witnessmark restore. What was here before lies in set-aside.",
                    .kind = ProblemKind::Unreadable});
}

}  // namespace wm::store
