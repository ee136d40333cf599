// Pictures to choose from: of the data folder, or of a card or camera that appears as a folder.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

#include "screens/world.hpp"

namespace wm::app {

/// A folder under which media are mounted, and how many folders below it a medium may lie.
struct MediaRoot {
    std::filesystem::path folder;
    int depth = 1;
};

/// /media/PERSON/CARD, /run/media/PERSON/CARD and /mnt/CARD.
[[nodiscard]] const std::vector<MediaRoot>& media_roots();

/// The DCIM folders of what is mounted there, at most eight. Links are not followed.
[[nodiscard]] std::vector<std::filesystem::path> camera_folders(const std::vector<MediaRoot>& roots);

/// How much is looked at: a whole disk may have been named.
struct PictureBounds {
    std::size_t files = 200;
    int entries = 5000;
    int depth = 3;  ///< folders below the one that was named
};

struct PicturesFound {
    std::vector<std::string> files;  ///< newest first
    bool more = false;               ///< not all of them: a bound was met
    bool is_there = true;            ///< false: the folder cannot be read, as of a card that was pulled
};

/// JPEG and PNG files of a folder and of those below it. Links to folders are not followed, and names that begin with a
/// point are left out: they are what was thrown away, and what other systems put beside a picture.
[[nodiscard]] PicturesFound pictures_in(const std::filesystem::path& folder, const PictureBounds& bounds = {});

struct OfferedPictures {
    screens::PhotoFolders folders;
    std::vector<std::string> files;
};

/// Of the chosen folder, or of `own` where none is chosen or it is gone.
[[nodiscard]] OfferedPictures offered_pictures(const std::filesystem::path& own, const std::filesystem::path& chosen,
                                               const std::vector<MediaRoot>& roots);

/// ".jpg" of "A.JPG".
[[nodiscard]] std::string lower_ending(const std::filesystem::path& file);

}  // namespace wm::app
