#include "app/log.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>

#include "app/manual.hpp"
#include "app/places.hpp"
#include "app/usage.hpp"

namespace wm::app {

namespace fs = std::filesystem;

namespace {

constexpr off_t full = 256 * 1024;

/// The form and its second word, where the program has such.
std::string known_words(const std::vector<std::string>& words) {
    const auto sorted = sort_arguments(words);
    if (!sorted) return "a command line that is none";
    if (sorted->words.empty()) return sorted->has("help") || sorted->has("version") ? "help" : "window";
    for (const auto& command : command_table()) {
        if (command.form != sorted->words.front()) continue;
        std::string known{command.form};
        if (sorted->words.size() > 1)
            for (const auto& usage : usages_of(command))
                if (!usage.verb.empty() && usage.verb == sorted->words[1]) known += " " + usage.verb;
        return known;
    }
    return "a form that is none";
}

}  // namespace

std::string log_line(const std::vector<std::string>& words, const Output& output, const std::string& when, std::int64_t took_ms) {
    return fmt::format("{} {} {} exit {} {} ms\n", when, program_version(), known_words(words), output.code, took_ms);
}

void keep_line(const fs::path& folder, const std::string& line) {
    std::error_code problem;
    fs::create_directories(folder, problem);
    if (problem) return;
    const fs::path file = folder / "witnessmark.log";
    struct stat about {};
    if (::stat(file.c_str(), &about) == 0 && about.st_size + static_cast<off_t>(line.size()) > full) {
        fs::rename(folder / "witnessmark.log.1", folder / "witnessmark.log.2", problem);
        fs::rename(file, folder / "witnessmark.log.1", problem);
    }
    const int out = ::open(file.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
    if (out < 0) return;
    // One write, so that lines of two programs do not mix; a line that is lost on a full disk is only a line of the log.
    if (::write(out, line.data(), line.size()) < 0) { ::close(out); return; }
    ::close(out);
}

std::string read_log_end(const fs::path& folder, std::size_t lines) {
    std::string text;
    for (const auto* name : {"witnessmark.log.1", "witnessmark.log"})
        if (const auto part = read_file(folder / name)) text += *part;
    std::size_t from = text.size();
    for (std::size_t seen = 0; from > 0; --from)
        if (text[from - 1] == '\n' && from != text.size() && ++seen == lines) break;
    return text.substr(from);
}

void keep_call(const std::vector<std::string>& words, const Output& output, std::int64_t took_ms) {
    const auto sorted = sort_arguments(words);
    if (!sorted) return;
    const auto world = world_for(*sorted);
    if (!world || !has_journal(*world)) return;
    const auto folder = log_folder(world->data);
    std::error_code problem;
    // Only where we may write anyway: a journal that is only looked at from elsewhere is left as it is.
    if (::access(world->data.c_str(), W_OK) != 0) return;
    keep_line(folder, log_line(words, output, desk::text_of(world->now()), took_ms));
}

}  // namespace wm::app
