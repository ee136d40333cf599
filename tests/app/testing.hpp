// The command line without a process: words in, an Output back, on a folder that goes away again.
#pragma once

#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "app/commands.hpp"
#include "demo/house.hpp"
#include "demo/one_job.hpp"
#include "temporary_folder.hpp"

namespace wm::app::testing {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

class Shell {
public:
    Shell() { ::setenv("WITNESSMARK_SHARE", WM_SOURCE_DIR, 1); }

    [[nodiscard]] fs::path folder() const { return folder_.path(); }
    [[nodiscard]] fs::path data() const { return folder() / "data"; }

    Output run(std::vector<std::string> words) {
        words.insert(words.end(), {"--data", data().string(), "--at", at});
        return run_words(words);
    }
    Json json(std::vector<std::string> words, int code = 0) {
        words.emplace_back("--json");
        const auto output = run(std::move(words));
        CAPTURE(output.talk);
        CAPTURE(output.data);
        CHECK(output.code == code);
        CHECK(output.data.ends_with("\n"));
        return Json::parse(output.data);
    }
    std::string write(const std::string& name, const std::string& bytes) {
        std::ofstream out{folder() / name, std::ios::binary};
        out << bytes;
        return (folder() / name).string();
    }
    static std::string bytes_of(const fs::path& file) {
        std::ifstream in{file, std::ios::binary};
        return {std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
    }
    /// A commissioning job of the demo house, opened and nothing read yet.
    std::string open_job() {
        const auto facts = write("facts.toml", demo::facts_text(demo::demo_house(), demo::demo_crews().front()));
        return json({"job", "new", "--checklist", "commissioning", "--facts", facts})["job"];
    }

    std::string at = "2026-11-25T09:00:00+05:00";

private:
    TemporaryFolder folder_;
};

/// All of `names` are keys of the object.
inline void check_fields(const Json& object, const std::vector<std::string>& names) {
    for (const auto& name : names) {
        CAPTURE(name);
        CAPTURE(object.dump());
        CHECK(object.contains(name));
    }
}

}  // namespace wm::app::testing
