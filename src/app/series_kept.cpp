#include "app/series_kept.hpp"

#include <fmt/format.h>

#include "app/world.hpp"
#include "checklist/document.hpp"
#include "checklist/rewrite.hpp"

namespace wm::app {

namespace fs = std::filesystem;

namespace {

std::string word(const checklist::Item& table, std::string_view key) {
    const auto* item = table.find(key);
    return item != nullptr && item->type == checklist::ItemType::Text ? item->text : std::string{};
}

}  // namespace

fs::path series_file(const fs::path& data, const std::string& job, const std::string& check) {
    return data / "series" / fmt::format("{} {}.toml", job, check);
}

Result<std::optional<KeptSeries>> read_series_kept(const fs::path& file) {
    std::error_code problem;
    if (!fs::exists(file, problem)) return std::optional<KeptSeries>{};
    const auto text = read_file(file);
    if (!text) return tl::unexpected(text.error());
    const auto document = checklist::read_document(*text, file.string());
    if (!document) return tl::unexpected(document.error());
    KeptSeries series{word(*document, "job"),        word(*document, "check"),   word(*document, "place"),
                      word(*document, "instrument"), word(*document, "started"), {}};
    const auto* list = document->find("reading");
    bool is_sound = !series.job.empty() && !series.check.empty() && !series.started.empty();
    for (const auto& row : list == nullptr ? std::vector<checklist::Item>{} : list->items) {
        const auto* at = row.find("at_s");
        const bool has_time = at != nullptr && at->type == checklist::ItemType::Whole && at->number >= 0.0 && at->number < 1e8;
        if (!has_time || word(row, "text").empty() || (!series.readings.empty() && at->number <= series.readings.back().at_s)) {
            is_sound = false;
            break;
        }
        series.readings.push_back({static_cast<int>(at->number), word(row, "text"), word(row, "evidence")});
    }
    if (!is_sound)
        return refused({"What is kept of a series cannot be understood.", file.string(), "Move the file away, and type the readings from your notes.",
                        ProblemKind::Unreadable});
    return series;
}

Result<void> keep_series(const fs::path& file, const KeptSeries& series) {
    std::string text = fmt::format("job = {}\ncheck = {}\nplace = {}\ninstrument = {}\nstarted = {}\n", checklist::quoted(series.job), checklist::quoted(series.check),
                                   checklist::quoted(series.place), checklist::quoted(series.instrument), checklist::quoted(series.started));
    for (const auto& reading : series.readings)
        text += fmt::format("\n[[reading]]\nat_s = {}\ntext = {}\nevidence = {}\n", reading.at_s, checklist::quoted(reading.text), checklist::quoted(reading.evidence));
    return write_file(file, text);
}

std::string typed_form(const KeptSeries& series) {
    std::string text;
    for (const auto& reading : series.readings) text += fmt::format("{}{} s={}", text.empty() ? "" : "; ", reading.at_s, reading.text);
    return text;
}

}  // namespace wm::app
