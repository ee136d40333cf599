#include "app/instrument_profiles.hpp"

#include <fmt/format.h>

#include <array>
#include <filesystem>
#include <set>

namespace wm::app {

namespace fs = std::filesystem;

Result<instruments::Profile> profile_named(const World& world, const std::string& name) {
    if (name.empty())
        return refused({"It is not said what kind of instrument is read.", "read-instrument", "Write --profile NAME, or a file.", ProblemKind::WrongUse});
    const bool is_file = name.find('/') != std::string::npos || name.ends_with(".toml");
    const std::array folders{world.data / "instruments", world.share / "assets/instruments"};
    std::error_code none;
    std::set<std::string> there;
    for (const auto& folder : folders) {
        if (!is_file && fs::exists(folder / (name + ".toml"), none)) {
            const auto text = read_file(folder / (name + ".toml"));
            return text ? instruments::read_profile(*text, (folder / (name + ".toml")).string()) : tl::unexpected(text.error());
        }
        for (const auto& entry : fs::directory_iterator{folder, none})
            if (entry.path().extension() == ".toml") there.insert(entry.path().stem().string());
    }
    if (is_file) {
        const auto text = read_file(name);
        return text ? instruments::read_profile(*text, name) : tl::unexpected(text.error());
    }
    std::string all;
    for (const auto& each : there) all += fmt::format("{}{}", all.empty() ? "" : ", ", each);
    return refused({fmt::format("There is no profile \"{}\".", name), folders.front().string(),
                    all.empty() ? "Write one there, or name a file." : fmt::format("There are {}. Another one is a file in this folder.", all),
                    ProblemKind::Unreadable});
}

}  // namespace wm::app
