#include "app/retention_rules.hpp"

#include "app/places.hpp"

namespace wm::app {

Result<std::vector<desk::RetentionRules>> all_retention_rules(const World& world) {
    const auto file = world.share / "assets" / "retention.toml";
    const auto text = read_file(file);
    if (!text) return tl::unexpected(text.error());
    return desk::read_retention(*text, file.string());
}

Result<desk::RetentionRules> retention_rules(const World& world) {
    const auto all = all_retention_rules(world);
    if (!all) return tl::unexpected(all.error());
    std::string country = "none";
    std::error_code missing;
    if (const auto settings = settings_file(world.data, "settings.toml"); std::filesystem::exists(settings, missing)) {
        const auto text = read_file(settings);
        if (!text) return tl::unexpected(text.error());
        const auto document = checklist::read_document(*text, settings.native());
        if (!document) return tl::unexpected(document.error());
        country = word_at(*document, "retention", "country", country);
    }
    return desk::rules_of(*all, country);
}

}  // namespace wm::app
