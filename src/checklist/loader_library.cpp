// cautions.toml and instruments.toml into the library.
#include <fmt/format.h>

#include <utility>

#include "checklist/loader.hpp"
#include "checklist/loader_library.hpp"
#include "checklist/table_reader.hpp"

namespace wm::checklist {
namespace {

std::string named(std::string_view what, const Item& table, std::string_view key) {
    const auto* name = table.find(key);
    return fmt::format("{} \"{}\"", what, name == nullptr ? "" : name->text);
}

void read_types(Library& library, TableReader& file, Findings& findings) {
    for (const auto* table : file.tables("instrument_type")) {
        TableReader reader{*table, named("instrument type", *table, "id"), findings};
        InstrumentType type;
        type.at = table->at;
        type.id = reader.needed_text("id");
        const auto unit = reader.unit("unit");
        if (reader.find("unit") == nullptr)
            reader.error("unit", fmt::format("{} has no unit", reader.whose()),
                         "Add unit = \"…\".");
        type.unit = unit.value_or(units::Unit{});
        type.resolution = reader.needed_text("resolution");
        type.uncertainty = reader.expression("uncertainty");
        if (reader.find("uncertainty") == nullptr)
            reader.error("uncertainty", fmt::format("{} has no uncertainty", reader.whose()),
                         "Give the largest U (k = 2) an instrument of this type may have.");
        type.difference_uncertainty = reader.expression("difference_uncertainty");
        type.calibrated = reader.flag("calibrated");
        type.use_check = reader.text("use_check");
        type.sources = reader.texts("source");
        reader.finish();
        library.instrument_types.push_back(std::move(type));
    }
}

void read_sources(Library& library, TableReader& file, Findings& findings) {
    for (const auto* table : file.tables("source")) {
        TableReader reader{*table, named("source", *table, "mark"), findings};
        SourceMark source{reader.needed_text("mark"), reader.needed_text("title"),
                          reader.needed_text("state")};
        reader.finish();
        library.sources.push_back(std::move(source));
    }
}

void read_settings(Library& library, TableReader& file, Findings& findings) {
    for (const auto* table : file.tables("setting")) {
        TableReader reader{*table, named("setting", *table, "name"), findings};
        Setting setting;
        setting.name = reader.needed_text("name");
        const auto value = reader.number("value");
        if (!value && reader.find("value") == nullptr)
            reader.error("value", fmt::format("{} has no value", reader.whose()), "Add value = ….");
        setting.value = value.value_or(0.0);
        setting.unit = reader.text("unit");
        setting.sources = reader.texts("source");
        setting.meaning = reader.needed_text("meaning");
        reader.finish();
        library.settings.push_back(std::move(setting));
    }
}

Problem problem_of(const Finding& finding, std::string_view file_name) {
    return {finding.what, place_of(file_name, finding.at), finding.what_to_do,
            ProblemKind::Unreadable};
}

}  // namespace

void read_cautions(Library& library, const Item& document, Findings& findings) {
    TableReader file{document, "the file", findings};
    if (const auto* tail = file.table("tail")) {
        TableReader reader{*tail, "[tail]", findings};
        library.caution_tail = reader.needed_text("text");
        reader.finish();
    }
    for (const auto* table : file.tables("caution")) {
        TableReader reader{*table, named("caution", *table, "id"), findings};
        Caution caution{reader.needed_text("id"), reader.needed_text("title"),
                        reader.needed_text("text"), reader.flag("refer"), table->at};
        reader.finish();
        library.cautions.push_back(std::move(caution));
    }
    file.finish();
}

void read_instruments(Library& library, const Item& document, Findings& findings) {
    TableReader file{document, "the file", findings};
    read_types(library, file, findings);
    read_sources(library, file, findings);
    read_settings(library, file, findings);
    file.finish();
}

Result<void> load_cautions(Library& library, std::string_view text, std::string_view file_name) {
    const auto document = read_document(text, file_name);
    if (!document) return tl::unexpected(document.error());
    Findings findings{text};
    read_cautions(library, *document, findings);
    if (const auto found = findings.taken(); !found.empty())
        return refused(problem_of(found.front(), file_name));
    library.cautions_text = std::string{text};
    return {};
}

Result<void> load_instruments(Library& library, std::string_view text, std::string_view file_name) {
    const auto document = read_document(text, file_name);
    if (!document) return tl::unexpected(document.error());
    Findings findings{text};
    read_instruments(library, *document, findings);
    if (const auto found = findings.taken(); !found.empty())
        return refused(problem_of(found.front(), file_name));
    library.instruments_text = std::string{text};
    return {};
}

}  // namespace wm::checklist
