#include "photo/position.hpp"

#include <fmt/format.h>
#include <libexif/exif-data.h>

#include <cmath>
#include <memory>

namespace wm::photo {

namespace {

/// Degrees of three fractions, with the sign of the letter; `positive` and `negative` are the letters allowed.
std::optional<double> degrees_of(const ExifContent& part, ExifByteOrder order, ExifTag angle, ExifTag letter, char positive,
                                 char negative, double most) {
    auto* content = const_cast<ExifContent*>(&part);  // the library reads through a plain pointer
    const ExifEntry* fractions = exif_content_get_entry(content, angle);
    const ExifEntry* side = exif_content_get_entry(content, letter);
    if (fractions == nullptr || side == nullptr || side->size < 1 || fractions->format != EXIF_FORMAT_RATIONAL ||
        fractions->components != 3 || fractions->size < 24)
        return std::nullopt;
    double degrees = 0.0;
    double unit = 1.0;
    for (int i = 0; i < 3; ++i, unit /= 60.0) {
        const ExifRational fraction = exif_get_rational(fractions->data + 8 * i, order);
        if (fraction.denominator == 0) return std::nullopt;
        degrees += unit * fraction.numerator / fraction.denominator;
    }
    const char sign = static_cast<char>(side->data[0]);
    if ((sign != positive && sign != negative) || degrees > most) return std::nullopt;
    return sign == negative ? -degrees : degrees;
}

}  // namespace

std::optional<Position> position_of(std::string_view bytes) {
    struct FreeExif {
        void operator()(ExifData* exif) const { exif_data_unref(exif); }
    };
    const std::unique_ptr<ExifData, FreeExif> exif{exif_data_new_from_data(
        reinterpret_cast<const unsigned char*>(bytes.data()), static_cast<unsigned>(bytes.size()))};
    if (!exif) return std::nullopt;
    const ExifByteOrder order = exif_data_get_byte_order(exif.get());
    const ExifContent& part = *exif->ifd[EXIF_IFD_GPS];
    const auto tag = [](int number) { return static_cast<ExifTag>(number); };
    const auto latitude = degrees_of(part, order, tag(2), tag(1), 'N', 'S', 90.0);
    const auto longitude = degrees_of(part, order, tag(4), tag(3), 'E', 'W', 180.0);
    if (!latitude || !longitude) return std::nullopt;
    return Position{*latitude, *longitude};
}

std::string in_words(const Position& position) {
    return fmt::format("{:.5f}° {}, {:.5f}° {}", std::abs(position.latitude), position.latitude < 0.0 ? 'S' : 'N',
                       std::abs(position.longitude), position.longitude < 0.0 ? 'W' : 'E');
}

}  // namespace wm::photo
