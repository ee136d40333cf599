// The letters of the window: two faces at the sizes the metrics ask for.
#pragma once

#include <string>

#include "screens/theme.hpp"

struct ImFont;
struct ImFontAtlas;

namespace wm::screens {

/// The files themselves (TrueType). Empty: the small built-in face, for tests only.
struct FontFiles {
    std::string regular;
    std::string bold;
};

enum class Face { Small, Body, Bold, Value };

/// Belong to the atlas they were loaded into.
struct Fonts {
    ImFont* small = nullptr;
    ImFont* body = nullptr;
    ImFont* bold = nullptr;
    ImFont* value = nullptr;  ///< digits and signs only

    [[nodiscard]] ImFont* of(Face face) const;
};

/// Pixels of the em of a face. Values do not grow with the text size: they are large already.
[[nodiscard]] float em_px(Face face, const Metrics& metrics);

/// Replaces all fonts of the atlas; the files must outlive it. Its texture must be uploaded again afterwards.
[[nodiscard]] Fonts load_fonts(ImFontAtlas& atlas, const FontFiles& files, const Metrics& metrics);

}  // namespace wm::screens
