#include "handover/plate_code.hpp"

#define ZX_USE_UTF8
#include <ZXing/BarcodeFormat.h>
#include <ZXing/DecodeHints.h>
#include <ZXing/ImageView.h>
#include <ZXing/ReadBarcode.h>

#include <fmt/format.h>

#include <algorithm>
#include <exception>

#include "photo/intake.hpp"

namespace wm::handover {

namespace {

constexpr int longest_side = 2400;  // bars of a small plate must survive the shrinking

tl::unexpected<Problem> refused_unreadable(std::string_view name) {
    return refused({"No code could be read in this picture.", fmt::format("picture {}", name),
                    "Take it from straight above, in good light, so that the code fills half of the picture; or type what stands below it.",
                    ProblemKind::Unreadable});
}

/// ISO/IEC 15424: ]C1 Code 128, ]d2 Data Matrix, ]Q3 QR, each with FNC1 in the first position.
bool is_marked(const std::string& symbology) { return symbology == "]C1" || symbology == "]d2" || symbology == "]Q3"; }

}  // namespace

Result<std::vector<PlateCode>> read_plate_codes(std::string_view picture, std::string_view name) {
    const auto pixels = photo::pixels_of(picture, name, longest_side);
    if (!pixels) return tl::unexpected<Problem>(pixels.error());
    std::vector<PlateCode> codes;
    try {
        const ZXing::ImageView view{pixels->rgb.data(), pixels->width, pixels->height, ZXing::ImageFormat::RGB};
        const auto hints = ZXing::DecodeHints{}.setFormats(ZXing::BarcodeFormat::QRCode | ZXing::BarcodeFormat::DataMatrix | ZXing::BarcodeFormat::Code128);
        for (const auto& found : ZXing::ReadBarcodes(view, hints)) {
            if (!found.isValid() || found.text().empty()) continue;
            const auto text = found.text();
            if (std::none_of(codes.begin(), codes.end(), [&](const PlateCode& code) { return code.text == text; }))
                codes.push_back({text, is_marked(found.symbologyIdentifier())});
        }
    } catch (const std::exception&) {
        return refused_unreadable(name);
    }
    if (codes.empty()) return refused_unreadable(name);
    return codes;
}

}  // namespace wm::handover
