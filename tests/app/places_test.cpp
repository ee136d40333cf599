#include "app/places.hpp"

#include "app/testing.hpp"

namespace wm::app {

namespace fs = std::filesystem;

namespace {

/// Sets variables of the environment and gives back what they were.
class Environment {
public:
    Environment(std::initializer_list<std::pair<const char*, std::string>> values) {
        for (const auto& [name, value] : values) {
            const char* old = std::getenv(name);
            before_.emplace_back(name, old != nullptr ? std::optional<std::string>{old} : std::nullopt);
            ::setenv(name, value.c_str(), 1);
        }
    }
    ~Environment() {
        for (const auto& [name, value] : before_) value ? ::setenv(name, value->c_str(), 1) : ::unsetenv(name);
    }
    Environment(const Environment&) = delete;
    Environment& operator=(const Environment&) = delete;

private:
    std::vector<std::pair<const char*, std::optional<std::string>>> before_;
};

}  // namespace

// Names of variables and defaults: XDG base directory specification 0.8.
TEST_CASE("folders of a person follow the base directory specification, and a relative path is none") {
    const Environment home{{"HOME", "/home/ansa"}, {"XDG_DATA_HOME", ""}, {"XDG_CONFIG_HOME", ""}, {"XDG_STATE_HOME", "state"}};
    CHECK(default_data() == "/home/ansa/.local/share/witnessmark");
    CHECK(settings_file(default_data(), "settings.toml") == "/home/ansa/.config/witnessmark/settings.toml");
    CHECK(log_folder(default_data()) == "/home/ansa/.local/state/witnessmark/log");
    const Environment moved{{"XDG_DATA_HOME", "/d"}, {"XDG_CONFIG_HOME", "/c"}, {"XDG_STATE_HOME", "/s"}};
    CHECK(default_data() == "/d/witnessmark");
    CHECK(settings_file(default_data(), "window.toml") == "/c/witnessmark/window.toml");
    CHECK(log_folder(default_data()) == "/s/witnessmark/log");
    CHECK(settings_file("/elsewhere", "settings.toml") == "/elsewhere/settings.toml");
    CHECK(log_folder("/elsewhere") == "/elsewhere/log");
}

TEST_CASE("a settings file that is in the data folder goes before the one of the person") {
    testing::Shell shell;
    const Environment moved{{"XDG_DATA_HOME", shell.folder().string()}, {"XDG_CONFIG_HOME", "/c"}};
    CHECK(settings_file(default_data(), "settings.toml") == "/c/witnessmark/settings.toml");
    fs::create_directories(default_data());
    std::ofstream{default_data() / "settings.toml"} << "[mail]\n";
    CHECK(settings_file(default_data(), "settings.toml") == default_data() / "settings.toml");
}

TEST_CASE("fonts that come with the program go before those of the system") {
    testing::Shell shell;
    CHECK(font_folder(shell.folder()) == "/usr/share/fonts/truetype/dejavu");
    fs::create_directories(shell.folder() / "fonts");
    std::ofstream{shell.folder() / "fonts/DejaVuSans.ttf"} << "x";
    CHECK(font_folder(shell.folder()) == shell.folder() / "fonts");
}

}  // namespace wm::app
