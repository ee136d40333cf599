#include "handover/square_code.hpp"

#define ZX_USE_UTF8
#include <ZXing/BarcodeFormat.h>
#include <ZXing/DecodeHints.h>
#include <ZXing/ImageView.h>
#include <ZXing/ReadBarcode.h>
#include <qrencode.h>

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <memory>

#include "photo/intake.hpp"

namespace wm::handover {

namespace {

struct FreeCode {
    void operator()(QRcode* code) const { QRcode_free(code); }
};

constexpr int quiet_modules = 4;
constexpr double overlap_mm = 0.02;  // closes the hairlines some viewers leave between rows

tl::unexpected<Problem> refused_unreadable(std::string_view name) {
    return refused({.what = "No square code could be read in this picture.",
                    .where = fmt::format("picture {}", name),
                    .what_to_do =
                        "Take it from straight above, in good light, so that the code fills "
                        "a third of the picture.",
                    .kind = ProblemKind::Unreadable});
}

}  // namespace

Result<void> draw_square_code(drawing::Canvas& on, drawing::Box box, std::string_view text) {
    const std::unique_ptr<QRcode, FreeCode> code{
        text.empty() ? nullptr
                     : QRcode_encodeData(static_cast<int>(text.size()),
                                         reinterpret_cast<const unsigned char*>(text.data()), 0,
                                         QR_ECLEVEL_M)};
    if (!code) {
        return refused({.what = "The signed facts do not fit into a square code.",
                        .where = "report, page one",
                        .what_to_do = "Shorten the place and the job number, then make the report "
                                      "again.",
                        .kind = ProblemKind::NotStored});
    }
    const double module_mm = box.width / (code->width + 2 * quiet_modules);
    on.fill_box(box, 0.0, drawing::Ink::Paper);
    const auto is_dark = [&](int x, int y) {
        return x < code->width && (code->data[y * code->width + x] & 1u) != 0;
    };
    for (int y = 0; y < code->width; ++y) {
        for (int x = 0; x < code->width; ++x) {
            if (!is_dark(x, y)) continue;
            const int from = x;
            while (is_dark(x, y)) ++x;
            on.fill_box({box.left + (quiet_modules + from) * module_mm,
                         box.top + (quiet_modules + y) * module_mm, (x - from) * module_mm,
                         module_mm + overlap_mm},
                        0.0, drawing::Ink::Text);
        }
    }
    return {};
}

Result<std::string> read_square_code(std::string_view picture, std::string_view name) {
    const auto pixels = photo::pixels_of(picture, name, 2400);
    if (!pixels) return tl::unexpected<Problem>(pixels.error());
    try {
        const ZXing::ImageView view{pixels->rgb.data(), pixels->width, pixels->height,
                                    ZXing::ImageFormat::RGB};
        const auto hints = ZXing::DecodeHints{}.setFormats(ZXing::BarcodeFormat::QRCode);
        const auto found = ZXing::ReadBarcode(view, hints);
        if (found.isValid()) return found.text();
    } catch (const std::exception&) {
        return refused_unreadable(name);
    }
    return refused_unreadable(name);
}

Result<std::vector<SquareCode>> read_square_codes(std::string_view picture, std::string_view name) {
    const auto pixels = photo::pixels_of(picture, name, 2400);
    if (!pixels) return tl::unexpected<Problem>(pixels.error());
    std::vector<SquareCode> codes;
    try {
        const ZXing::ImageView view{pixels->rgb.data(), pixels->width, pixels->height, ZXing::ImageFormat::RGB};
        const auto hints = ZXing::DecodeHints{}.setFormats(ZXing::BarcodeFormat::QRCode);
        for (const auto& found : ZXing::ReadBarcodes(view, hints)) {
            if (!found.isValid()) continue;
            const auto& at = found.position();
            const auto [left, right] = std::minmax({at.topLeft().x, at.topRight().x, at.bottomLeft().x, at.bottomRight().x});
            const auto [top, bottom] = std::minmax({at.topLeft().y, at.topRight().y, at.bottomLeft().y, at.bottomRight().y});
            const int x = pixels->width / 2, y = pixels->height / 2;
            codes.push_back({found.text(), left <= x && x <= right && top <= y && y <= bottom});
        }
    } catch (const std::exception&) {
        return refused_unreadable(name);
    }
    if (codes.empty()) return refused_unreadable(name);
    return codes;
}

}  // namespace wm::handover
