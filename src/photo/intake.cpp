#include "photo/intake.hpp"

#include <fmt/format.h>
#include <stb/stb_image.h>

#include <algorithm>
#include <memory>
#include <optional>

#include "photo/jpeg_coder.hpp"
#include "photo/look.hpp"
#include "photo/png_whole.hpp"

namespace wm::photo {

namespace {

constexpr std::size_t most_file_bytes = 60u * 1024u * 1024u;
constexpr std::int64_t most_pixels = 100'000'000;

tl::unexpected<Problem> refused_photo(std::string_view name, std::string what,
                                      std::string what_to_do) {
    return refused({.what = std::move(what),
                    .where = fmt::format("photo {}", name),
                    .what_to_do = std::move(what_to_do),
                    .kind = ProblemKind::Unreadable});
}

tl::unexpected<Problem> refused_damaged(std::string_view name) {
    return refused_photo(name, "The picture file ends too early or is damaged.",
                         "Take the photo again, or copy the file again from the camera.");
}

tl::unexpected<Problem> refused_large(std::string_view name) {
    return refused_photo(name, "The picture is larger than 100 million pixels or 60 MB.",
                         "Choose a smaller size in the camera and take the photo again.");
}

bool is_too_large(int width, int height) {
    return std::int64_t{width} * height > most_pixels;
}

/// Alpha is laid on white, as a page would.
Pixels on_white(const stbi_uc* rgba, int width, int height) {
    Pixels pixels{width, height, {}};
    const std::size_t count = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
    pixels.rgb.resize(3 * count);
    for (std::size_t i = 0; i < count; ++i) {
        const unsigned alpha = rgba[4 * i + 3];
        for (std::size_t c = 0; c < 3; ++c) {
            const unsigned mixed = rgba[4 * i + c] * alpha + 255u * (255u - alpha);
            pixels.rgb[3 * i + c] = static_cast<std::uint8_t>((mixed + 127u) / 255u);
        }
    }
    return pixels;
}

Result<Pixels> decoded_png(std::string_view bytes, std::string_view name) {
    if (!is_whole_png(bytes)) return refused_damaged(name);
    const auto* raw = reinterpret_cast<const stbi_uc*>(bytes.data());
    const int size = static_cast<int>(bytes.size());
    int width = 0;
    int height = 0;
    int channels = 0;
    if (stbi_info_from_memory(raw, size, &width, &height, &channels) == 0) {
        return refused_damaged(name);
    }
    if (is_too_large(width, height)) return refused_large(name);
    struct FreeImage {
        void operator()(stbi_uc* image) const { stbi_image_free(image); }
    };
    const std::unique_ptr<stbi_uc, FreeImage> rgba{
        stbi_load_from_memory(raw, size, &width, &height, &channels, 4)};
    if (!rgba) return refused_damaged(name);
    return on_white(rgba.get(), width, height);
}

Result<Pixels> decoded(std::string_view bytes, std::string_view name, int wanted_side) {
    if (begins_as_png(bytes)) return decoded_png(bytes, name);
    const auto head = jpeg_head(bytes);
    if (!head) {
        return refused_photo(name, "The file is no JPEG or PNG picture.",
                             "Save the photo as JPEG in the camera's settings and take it again.");
    }
    if (is_too_large(head->width, head->height)) return refused_large(name);
    auto pixels = decoded_jpeg(bytes, wanted_side);
    if (!pixels) return refused_damaged(name);
    return turned(std::move(*pixels), exif_orientation(bytes));
}

/// Less quality first, down to where edges begin to smear; then fewer pixels.
std::string within_bytes(Pixels& pixels, std::size_t most_bytes) {
    for (;;) {
        for (const int quality : {84, 76, 68, 60, 52}) {
            std::string jpeg = encoded_jpeg(pixels, quality);
            if (jpeg.empty() || jpeg.size() <= most_bytes) return jpeg;
        }
        const int longest = std::max(pixels.width, pixels.height);
        if (longest <= 64) return {};
        pixels = shrunk(std::move(pixels), std::max(64, longest * 85 / 100));
    }
}

}  // namespace

Result<Pixels> pixels_of(std::string_view bytes, std::string_view name, int longest_side) {
    if (bytes.size() > most_file_bytes) return refused_large(name);
    auto pixels = decoded(bytes, name, longest_side);
    if (!pixels) return pixels;
    return shrunk(std::move(*pixels), longest_side);
}

Result<Photo> take_in(std::string_view bytes, std::string_view name, IntakeLimits limits) {
    auto pixels = pixels_of(bytes, name, std::max(limits.longest_side, 64));
    if (!pixels) return tl::unexpected<Problem>(pixels.error());
    Pixels small = std::move(*pixels);
    Photo photo;
    photo.look = look_of(small);
    photo.jpeg = within_bytes(small, std::max<std::size_t>(limits.most_bytes, 8u * 1024u));
    if (photo.jpeg.empty()) {
        return refused_photo(name, "The picture could not be made small enough to keep.",
                             "Take the photo again with the camera at its normal settings.");
    }
    photo.width = small.width;
    photo.height = small.height;
    return photo;
}

bool is_sound_jpeg(std::string_view bytes) {
    const auto head = jpeg_head(bytes);
    if (!head || is_too_large(head->width, head->height)) return false;
    // At an eighth of the size every coded bit is still read, but few pixels are made.
    return decoded_jpeg(bytes, 1).has_value();
}

}  // namespace wm::photo
