#include <fmt/format.h>
#include <sys/utsname.h>

#include <algorithm>
#include <map>

#include "app/check_up.hpp"
#include "app/log.hpp"
#include "app/manual.hpp"
#include "app/places.hpp"
#include "store/journal.hpp"

namespace wm::app {

namespace fs = std::filesystem;

namespace {

/// Which settings are made, not what they say.
std::string settings_made(const World& world) {
    const auto text = read_file(settings_file(world.data, "settings.toml"));
    if (!text) return "  none\n";
    const auto document = checklist::read_document(*text, "settings.toml");
    if (!document) return "  the file cannot be read as TOML\n";
    // Only names this program knows: a word somebody typed in the wrong place stays at home.
    constexpr std::pair<const char*, const char*> known[] = {
        {"company", "name"},   {"company", "contact"}, {"company", "fingerprint_published"}, {"report", "paper"},
        {"stamp", "server"},   {"stamp", "ca"},        {"backup", "folder"},                 {"backup", "password_file"},
        {"mail", "from"},      {"mail", "server"},     {"mail", "user"},                     {"mail", "password_file"},
        {"mail", "ca"},        {"retention", "country"}};
    std::string made;
    for (const auto& [table, key] : known)
        if (!word_at(*document, table, key, "").empty()) made += fmt::format("  [{}] {}\n", table, key);
    return made.empty() ? "  none\n" : made;
}

std::string system_words() {
    std::string words;
    utsname name{};
    if (::uname(&name) == 0) words += fmt::format("  {} {} on {}\n", name.sysname, name.release, name.machine);
    if (const auto text = read_file("/etc/os-release")) {
        const auto at = text->find("PRETTY_NAME=");
        if (at != std::string::npos) words += "  " + text->substr(at + 12, text->find('\n', at) - at - 12) + "\n";
    }
    return words;
}

/// Files and bytes by kind; a name of a file may be that of a customer.
std::string sizes(const World& world) {
    std::map<std::string, std::pair<int, std::uintmax_t>> kinds;
    std::error_code problem;
    for (fs::recursive_directory_iterator at{world.data, problem}, end; !problem && at != end; at.increment(problem)) {
        std::error_code ignored;
        if (!at->is_regular_file(ignored)) continue;
        const auto below = fs::relative(at->path(), world.data, ignored);
        std::string kind = below.begin()->string();
        const bool is_known = kind == "attachments" || kind == "backups" || kind == "keys" || kind == "pins" || kind == "log" ||
                              kind.starts_with("journal.db");
        if (!is_known) kind = "other";
        auto& [files, bytes] = kinds[kind];
        ++files;
        bytes += at->file_size(ignored);
    }
    std::string words;
    for (const auto& [kind, size] : kinds) words += fmt::format("  {:<16} {:>6} files {:>12} bytes\n", kind, size.first, size.second);
    return words.empty() ? "  nothing\n" : words;
}

}  // namespace

std::string bundle_of_diagnostics(const World& world, const std::vector<Finding>& findings) {
    std::string text = fmt::format(
        "Diagnostics of Witnessmark {}, {}\n\nRead this before you send it. It holds no name, address, folder, instrument or reading. Where\n"
        "you see one all the same, take it out.\n\nFindings\n",
        program_version(), desk::text_of(world.now()));
    for (const auto& finding : findings)
        text += fmt::format("  {:<7} {}: {}\n", in_words(finding.fitness), finding.subject, finding.what);
    text += "\nSystem\n" + system_words() + "\nSettings that are made\n" + settings_made(world) + "\nData folder\n" + sizes(world) +
            "\nThe last calls\n";
    const auto log = read_log_end(log_folder(world.data), 200);
    return text + (log.empty() ? "  none\n" : log);
}

}  // namespace wm::app
