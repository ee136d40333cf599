// A data folder with many jobs, made from a season.
#pragma once

#include <filesystem>

#include "app/world.hpp"

namespace wm::bench {

/// The jobs of the data folder `season` again and again under new numbers, without pictures: their entries in their order,
/// as many of each as asked for. Hashes that entries name are those of the season and lead nowhere here.
void make_many(const std::filesystem::path& season, const std::filesystem::path& into, int jobs, int entries_of_job);

/// The machine's, with that data folder.
[[nodiscard]] app::World world_of(const std::filesystem::path& data);

}  // namespace wm::bench
