// A desk of the demo in a folder that goes away again.
#pragma once

#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>

#include "demo/one_job.hpp"
#include "desk/desk.hpp"
#include "digest/hash.hpp"
#include "temporary_folder.hpp"

namespace wm::demo::testing {

namespace fs = std::filesystem;

class DemoDesk {
public:
    explicit DemoDesk(std::string seed = "demo") {
        desk::Setup setup;
        setup.data = folder_.path() / "data";
        for (const auto& entry : fs::directory_iterator{fs::path{WM_SOURCE_DIR} / "checklists"}) {
            if (entry.path().extension() != ".toml") continue;
            std::ifstream in{entry.path(), std::ios::binary};
            setup.library.emplace(entry.path().filename().string(), std::string{std::istreambuf_iterator<char>{in}, {}});
        }
        setup.now = [this] { return clock.now(); };
        setup.random = [seed = std::move(seed), block = std::make_shared<int>(0)](std::size_t count) {
            std::string bytes;
            while (bytes.size() < count) bytes += digest::sha256(seed + std::to_string((*block)++));
            bytes.resize(count);
            return bytes;
        };
        auto opened = desk::Desk::open(std::move(setup));
        REQUIRE_MESSAGE(opened, (opened ? "" : told(opened.error())));
        desk_ = std::make_unique<desk::Desk>(std::move(*opened));
    }
    DemoDesk(const DemoDesk&) = delete;
    DemoDesk& operator=(const DemoDesk&) = delete;

    DemoClock clock{desk::Moment{1788426600000LL, 300}};
    [[nodiscard]] desk::Desk& desk() { return *desk_; }

private:
    TemporaryFolder folder_;  ///< before the desk, which goes first
    std::unique_ptr<desk::Desk> desk_;
};

}  // namespace wm::demo::testing
