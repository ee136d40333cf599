#include "desk/library.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

#include "checklist/loader.hpp"

namespace wm::desk {

namespace {

constexpr std::array<std::string_view, 5> shipped{"survey.toml", "kit.toml", "commissioning.toml", "service.toml", "tutorial.toml"};

bool is_checklist(const std::string& name) {
    return name.ends_with(".toml") && name != "cautions.toml" && name != "instruments.toml" && name != "parts.toml" && name != "failures.toml";
}

Problem missing(std::string_view name) {
    return {fmt::format("The file {} is missing.", name), "the folder of checklists",
            "Install the program again, or name the folder of checklists.", ProblemKind::Unreadable};
}

}  // namespace

Result<std::shared_ptr<const checklist::Library>> read_library(const LibraryTexts& texts) {
    auto library = std::make_shared<checklist::Library>();
    for (const char* name : {"cautions.toml", "instruments.toml"})
        if (!texts.contains(name)) return refused(missing(name));
    if (auto done = checklist::load_cautions(*library, texts.find("cautions.toml")->second, "cautions.toml"); !done)
        return tl::unexpected(done.error());
    if (auto done = checklist::load_instruments(*library, texts.find("instruments.toml")->second, "instruments.toml");
        !done)
        return tl::unexpected(done.error());
    for (const auto& [name, text] : texts) {
        // What lies there and is no checklist keeps nobody from their work.
        const bool ours = std::find(shipped.begin(), shipped.end(), name) != shipped.end();
        if (!is_checklist(name) || (!ours && text.find("[checklist]") == std::string::npos)) continue;
        auto list = checklist::load_checklist(text, name);
        if (!list) return tl::unexpected(list.error());
        library->checklists.push_back(std::move(*list));
    }
    return std::shared_ptr<const checklist::Library>{std::move(library)};
}

Result<std::string> pin_text(const LibraryTexts& texts, std::string_view checklist_name) {
    std::string pin;
    for (const auto& name : {std::string{checklist_name} + ".toml", std::string{"cautions.toml"},
                             std::string{"instruments.toml"}}) {
        const auto found = texts.find(name);
        if (found == texts.end()) return refused(missing(name));
        pin += fmt::format("file {} {}\n{}\n", name, found->second.size(), found->second);
    }
    return pin;
}

Result<LibraryTexts> texts_of_pin(std::string_view pin) {
    LibraryTexts texts;
    const auto torn = [] {
        return refused({"A pinned checklist is torn.", "the folder of pinned checklists",
                        "Restore the data folder from a backup.", ProblemKind::Unreadable});
    };
    while (!pin.empty()) {
        const auto line_end = pin.find('\n');
        if (!pin.starts_with("file ") || line_end == std::string_view::npos) return torn();
        const auto line = pin.substr(5, line_end - 5);
        const auto blank = line.rfind(' ');
        if (blank == std::string_view::npos) return torn();
        std::size_t size = 0;
        const auto figure = line.substr(blank + 1);
        if (std::from_chars(figure.data(), figure.data() + figure.size(), size).ec != std::errc{}) return torn();
        if (line_end + 1 + size + 1 > pin.size()) return torn();
        texts.emplace(line.substr(0, blank), pin.substr(line_end + 1, size));
        pin.remove_prefix(line_end + 1 + size + 1);
    }
    return texts;
}

}  // namespace wm::desk
