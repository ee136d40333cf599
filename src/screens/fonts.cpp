// Font atlas of the window.
#include "screens/fonts.hpp"

#include <array>
#include <cassert>
#include <cmath>

#include <imgui.h>

namespace wm::screens {
namespace {

// Both must outlive the building of the atlas.
constexpr std::array<ImWchar, 27> word_ranges{
    0x0020, 0x007e, 0x00a0, 0x024f, 0x0370, 0x03ff, 0x0400, 0x04ff, 0x2010,
    0x203a, 0x2070, 0x209c, 0x2100, 0x2126, 0x2190, 0x2199, 0x2200, 0x2265,
    0x2300, 0x232b, 0x25a0, 0x25ff, 0x26a0, 0x26a1, 0x2700, 0x2727, 0};
constexpr std::array<ImWchar, 11> value_ranges{0x0020, 0x007e, 0x00b0, 0x00b7, 0x03a0, 0x03ff,
                                               0x2010, 0x2026, 0x2212, 0x2212, 0};

ImFont* face_of(ImFontAtlas& atlas, const std::string& file, float em, const ImWchar* ranges) {
    ImFontConfig config;
    config.FontDataOwnedByAtlas = false;
    // Letters stand on whole pixels, so finer ones in between would only cost time and memory at the start.
    config.OversampleH = 1;
    config.OversampleV = 1;
    config.PixelSnapH = true;
    if (file.empty()) {
        config.SizePixels = em;
        return atlas.AddFontDefault(&config);
    }
    // The atlas only reads the bytes; its interface is older than const.
    return atlas.AddFontFromMemoryTTF(const_cast<char*>(file.data()), static_cast<int>(file.size()), em, &config, ranges);
}

}  // namespace

ImFont* Fonts::of(Face face) const {
    switch (face) {
        case Face::Small:
            return small;
        case Face::Body:
            return body;
        case Face::Bold:
            return bold;
        case Face::Value:
            return value;
    }
    assert(false && "a face outside the enumeration");
    return body;
}

// DejaVu's line is 1.164 em, and ImGui sizes a font by its line, not by its em.
float em_px(Face face, const Metrics& metrics) {
    constexpr float line_of_em = 1.164F;
    switch (face) {
        case Face::Small:
            return std::round(metrics.mm(small_em_mm) * metrics.text_scale() * line_of_em);
        case Face::Body:
        case Face::Bold:
            return std::round(metrics.mm(body_em_mm) * metrics.text_scale() * line_of_em);
        case Face::Value:
            return std::round(metrics.mm(value_em_mm) * line_of_em);
    }
    assert(false && "a face outside the enumeration");
    return 13.0F;
}

Fonts load_fonts(ImFontAtlas& atlas, const FontFiles& files, const Metrics& metrics) {
    atlas.Clear();
    atlas.TexDesiredWidth = 0;
    Fonts fonts;
    fonts.body = face_of(atlas, files.regular, em_px(Face::Body, metrics), word_ranges.data());
    fonts.small = face_of(atlas, files.regular, em_px(Face::Small, metrics), word_ranges.data());
    fonts.bold = face_of(atlas, files.bold, em_px(Face::Bold, metrics), word_ranges.data());
    fonts.value = face_of(atlas, files.bold, em_px(Face::Value, metrics), value_ranges.data());
    return fonts;
}

}  // namespace wm::screens
