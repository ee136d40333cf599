#include "app/pictures.hpp"

#include <algorithm>
#include <functional>
#include <system_error>
#include <utility>

namespace wm::app {

namespace fs = std::filesystem;

namespace {

constexpr std::size_t most_cameras = 8;
constexpr int most_media_entries = 200;

bool is_real_folder(const fs::path& path) {
    std::error_code problem;
    return fs::symlink_status(path, problem).type() == fs::file_type::directory;
}

struct MediaWalk {
    int looked = 0;
    std::vector<fs::path> found;
};

void look_for_media(const fs::path& folder, int depth, MediaWalk& walk) {
    std::error_code problem;
    for (fs::directory_iterator at{folder, problem}, end; !problem && at != end; at.increment(problem)) {
        if (++walk.looked > most_media_entries || walk.found.size() == most_cameras) return;
        if (!is_real_folder(at->path())) continue;
        const fs::path pictures = at->path() / "DCIM";
        if (is_real_folder(pictures)) walk.found.push_back(pictures);
        else if (depth > 1) look_for_media(at->path(), depth - 1, walk);
    }
}

bool is_picture(const fs::path& file) {
    const std::string ending = lower_ending(file);
    return ending == ".jpg" || ending == ".jpeg" || ending == ".png";
}

struct PictureWalk {
    const PictureBounds& bounds;
    int looked = 0;
    bool cut = false;
    std::vector<std::pair<fs::file_time_type, std::string>> found;
};

bool is_hidden(const fs::path& path) { return path.filename().string().starts_with('.'); }

/// False where the folder cannot be read.
bool look_into(const fs::path& folder, int depth, PictureWalk& walk) {
    std::vector<fs::path> below;
    std::error_code problem;
    fs::directory_iterator at{folder, problem};
    if (problem) return false;
    for (const fs::directory_iterator end; !problem && at != end; at.increment(problem)) {
        walk.cut = walk.looked == walk.bounds.entries;
        if (walk.cut) return true;
        ++walk.looked;
        if (is_hidden(at->path())) continue;
        std::error_code gone;  // deleted meanwhile
        if (at->is_directory(gone)) {
            if (depth > 0 && !at->is_symlink(gone)) below.push_back(at->path());
            continue;
        }
        if (!is_picture(at->path()) || !at->is_regular_file(gone)) continue;
        const auto written = at->last_write_time(gone);
        if (!gone) walk.found.emplace_back(written, at->path().string());
    }
    // Cameras count their folders up, so that the latest are looked into while the bound is far.
    std::sort(below.begin(), below.end(), std::greater<>{});
    for (const fs::path& one : below)
        if (!walk.cut) (void)look_into(one, depth - 1, walk);
    return true;
}

}  // namespace

const std::vector<MediaRoot>& media_roots() {
    static const std::vector<MediaRoot> roots = {{"/media", 2}, {"/run/media", 2}, {"/mnt", 1}};
    return roots;
}

std::vector<fs::path> camera_folders(const std::vector<MediaRoot>& roots) {
    std::vector<fs::path> all;
    for (const MediaRoot& root : roots) {
        MediaWalk walk;
        look_for_media(root.folder, root.depth, walk);
        std::sort(walk.found.begin(), walk.found.end());
        all.insert(all.end(), walk.found.begin(), walk.found.end());
    }
    if (all.size() > most_cameras) all.resize(most_cameras);
    return all;
}

PicturesFound pictures_in(const fs::path& folder, const PictureBounds& bounds) {
    PictureWalk walk{.bounds = bounds, .found = {}};
    PicturesFound pictures;
    pictures.is_there = look_into(folder, bounds.depth, walk);
    std::sort(walk.found.rbegin(), walk.found.rend());
    pictures.more = walk.cut || walk.found.size() > bounds.files;
    for (auto& [written, path] : walk.found)
        if (pictures.files.size() < bounds.files) pictures.files.push_back(std::move(path));
    return pictures;
}

OfferedPictures offered_pictures(const fs::path& own, const fs::path& chosen, const std::vector<MediaRoot>& roots) {
    OfferedPictures offered;
    auto& folders = offered.folders;
    PicturesFound found{.files = {}, .is_there = false};
    if (!chosen.empty()) found = pictures_in(chosen);
    folders.is_own = !found.is_there;
    if (folders.is_own) {
        folders.gone = chosen.string();
        found = pictures_in(own);
    }
    folders.folder = (folders.is_own ? own : chosen).string();
    folders.more = found.more;
    offered.files = std::move(found.files);
    folders.there.push_back({"", "This device"});
    bool is_listed = folders.is_own;
    for (const fs::path& camera : camera_folders(roots)) {
        folders.there.push_back({camera.string(), camera.parent_path().filename().string()});
        is_listed = is_listed || camera == chosen;
    }
    if (!is_listed) folders.there.push_back({chosen.string(), chosen.filename().string()});
    return offered;
}

std::string lower_ending(const fs::path& file) {
    std::string ending = file.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
    return ending;
}

}  // namespace wm::app
