#include "app/places.hpp"

#include <cstdlib>

namespace wm::app {

namespace fs = std::filesystem;

std::string environment(const char* name) {
    const char* value = std::getenv(name);
    return value ? value : "";
}

namespace {

/// The specification has relative paths ignored.
fs::path of_person(const char* variable, const char* below_home) {
    if (const fs::path named = environment(variable); named.is_absolute()) return named / "witnessmark";
    if (const fs::path home = environment("HOME"); !home.empty()) return home / below_home / "witnessmark";
    return {};
}

}  // namespace

fs::path default_data() {
    const auto folder = of_person("XDG_DATA_HOME", ".local/share");
    return folder.empty() ? fs::path{"witnessmark-data"} : folder;
}

fs::path settings_file(const fs::path& data, const std::string& name) {
    std::error_code problem;
    const fs::path in_data = data / name;
    if (data != default_data() || fs::exists(in_data, problem)) return in_data;
    const auto folder = of_person("XDG_CONFIG_HOME", ".config");
    return folder.empty() ? in_data : folder / name;
}

fs::path log_folder(const fs::path& data) {
    if (data == default_data())
        if (const auto folder = of_person("XDG_STATE_HOME", ".local/state"); !folder.empty()) return folder / "log";
    return data / "log";
}

fs::path share_folder() {
    if (const auto named = environment("WITNESSMARK_SHARE"); !named.empty()) return named;
    std::error_code problem;
    const fs::path program = fs::read_symlink("/proc/self/exe", problem);
    fs::path folder = program.parent_path();
    for (int up = 0; up < 4 && !folder.empty(); ++up, folder = folder.parent_path()) {
        if (fs::exists(folder / "share/witnessmark/checklists", problem)) return folder / "share/witnessmark";
        if (fs::exists(folder / "checklists/cautions.toml", problem)) return folder;
    }
    return program.parent_path();
}

fs::path language_folder(const fs::path& share) {
    std::error_code problem;
    const fs::path built = fs::read_symlink("/proc/self/exe", problem).parent_path() / "languages";
    return fs::exists(built, problem) ? built : share / "languages";
}

fs::path font_folder(const fs::path& share) {
    std::error_code problem;
    const fs::path own = share / "fonts";
    return fs::exists(own / "DejaVuSans.ttf", problem) ? own : fs::path{"/usr/share/fonts/truetype/dejavu"};
}

}  // namespace wm::app
