#include "photo/jpeg_coder.hpp"

#include <libexif/exif-data.h>
#include <turbojpeg.h>

#include <algorithm>
#include <memory>

namespace wm::photo {

namespace {

struct CloseCoder {
    void operator()(void* coder) const { tjDestroy(coder); }
};
using Coder = std::unique_ptr<void, CloseCoder>;

const unsigned char* raw(std::string_view bytes) {
    return reinterpret_cast<const unsigned char*>(bytes.data());
}

struct FullHead {
    int width = 0;
    int height = 0;
    int sampling = 0;
    int colours = 0;
};

std::optional<FullHead> read_head(void* coder, std::string_view bytes) {
    FullHead head;
    if (tjDecompressHeader3(coder, raw(bytes), static_cast<unsigned long>(bytes.size()),
                            &head.width, &head.height, &head.sampling, &head.colours) != 0 &&
        tjGetErrorCode(coder) == TJERR_FATAL) {
        return std::nullopt;
    }
    if (head.width <= 0 || head.height <= 0) return std::nullopt;
    return head;
}

/// The smallest size the decoder offers that is not below `wanted_side`.
std::pair<int, int> scaled_size(const FullHead& head, int wanted_side) {
    std::pair<int, int> best{head.width, head.height};
    int count = 0;
    const tjscalingfactor* factors = tjGetScalingFactors(&count);
    for (int i = 0; factors != nullptr && i < count; ++i) {
        if (factors[i].num > factors[i].denom) continue;
        const int width = TJSCALED(head.width, factors[i]);
        const int height = TJSCALED(head.height, factors[i]);
        if (std::max(width, height) >= wanted_side && width < best.first) best = {width, height};
    }
    return best;
}

/// Warnings that leave every pixel as it was taken.
bool is_harmless(void* coder) {
    const std::string_view words = tjGetErrorStr2(coder);
    return tjGetErrorCode(coder) == TJERR_WARNING &&
           words.find("extraneous bytes") != std::string_view::npos;
}

/// Cameras and editors store the four inks inverted.
void inks_to_rgb(const std::vector<std::uint8_t>& inks, std::vector<std::uint8_t>& rgb) {
    for (std::size_t from = 0, to = 0; from + 3 < inks.size(); from += 4, to += 3) {
        const unsigned black = inks[from + 3];
        for (std::size_t i = 0; i < 3; ++i) {
            rgb[to + i] = static_cast<std::uint8_t>(inks[from + i] * black / 255u);
        }
    }
}

}  // namespace

std::optional<JpegHead> jpeg_head(std::string_view bytes) {
    if (bytes.substr(0, 2) != "\xff\xd8") return std::nullopt;
    const Coder coder{tjInitDecompress()};
    if (!coder) return std::nullopt;
    const auto head = read_head(coder.get(), bytes);
    if (!head) return std::nullopt;
    return JpegHead{head->width, head->height};
}

std::optional<Pixels> decoded_jpeg(std::string_view bytes, int wanted_side) {
    const Coder coder{tjInitDecompress()};
    if (!coder) return std::nullopt;
    const auto head = read_head(coder.get(), bytes);
    if (!head) return std::nullopt;
    const auto [width, height] = scaled_size(*head, wanted_side);
    const bool four_inks = head->colours == TJCS_CMYK || head->colours == TJCS_YCCK;
    const auto count = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
    std::vector<std::uint8_t> raw_pixels(count * (four_inks ? 4u : 3u));
    const int done = tjDecompress2(
        coder.get(), raw(bytes), static_cast<unsigned long>(bytes.size()), raw_pixels.data(), width,
        0, height, four_inks ? TJPF_CMYK : TJPF_RGB, TJFLAG_ACCURATEDCT);
    if (done != 0 && !is_harmless(coder.get())) return std::nullopt;
    if (!four_inks) return Pixels{width, height, std::move(raw_pixels)};
    Pixels pixels{width, height, std::vector<std::uint8_t>(count * 3u)};
    inks_to_rgb(raw_pixels, pixels.rgb);
    return pixels;
}

std::string encoded_jpeg(const Pixels& pixels, int quality) {
    const Coder coder{tjInitCompress()};
    if (!coder) return {};
    unsigned char* out = nullptr;
    unsigned long size = 0;
    const int done = tjCompress2(coder.get(), pixels.rgb.data(), pixels.width, 0, pixels.height,
                                 TJPF_RGB, &out, &size, TJSAMP_420, quality, TJFLAG_ACCURATEDCT);
    std::string jpeg;
    if (done == 0) jpeg.assign(reinterpret_cast<const char*>(out), size);
    tjFree(out);
    return jpeg;
}

int exif_orientation(std::string_view bytes) {
    struct FreeExif {
        void operator()(ExifData* exif) const { exif_data_unref(exif); }
    };
    const std::unique_ptr<ExifData, FreeExif> exif{
        exif_data_new_from_data(raw(bytes), static_cast<unsigned>(bytes.size()))};
    if (!exif) return 1;
    const ExifEntry* entry = exif_content_get_entry(exif->ifd[EXIF_IFD_0], EXIF_TAG_ORIENTATION);
    if (entry == nullptr || entry->format != EXIF_FORMAT_SHORT || entry->size < 2) return 1;
    const int value = exif_get_short(entry->data, exif_data_get_byte_order(exif.get()));
    return value >= 1 && value <= 8 ? value : 1;
}

}  // namespace wm::photo
