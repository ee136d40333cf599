// Rectangles in pixels and how a screen is cut into them.
#pragma once

#include <algorithm>
#include <cassert>
#include <vector>

namespace wm::screens {

/// x to the right, y downward, pixels of the window; width and height are never negative.
struct Rect {
    float x = 0.0F;
    float y = 0.0F;
    float w = 0.0F;
    float h = 0.0F;

    [[nodiscard]] float right() const { return x + w; }
    [[nodiscard]] float bottom() const { return y + h; }
    [[nodiscard]] Rect inset(float by) const {
        return {x + by, y + by, std::max(0.0F, w - 2.0F * by), std::max(0.0F, h - 2.0F * by)};
    }
    [[nodiscard]] bool holds(float px, float py) const {
        return px >= x && px <= right() && py >= y && py <= bottom();
    }
};

/// Takes a strip off one edge of `from` and leaves `gap` between it and the rest. A strip larger
/// than what is there takes all of it.
[[nodiscard]] inline Rect cut_top(Rect& from, float height, float gap = 0.0F) {
    const float taken = std::clamp(height, 0.0F, from.h);
    const Rect strip{from.x, from.y, from.w, taken};
    const float gone = std::min(from.h, taken + gap);
    from.y += gone;
    from.h -= gone;
    return strip;
}
[[nodiscard]] inline Rect cut_bottom(Rect& from, float height, float gap = 0.0F) {
    const float taken = std::clamp(height, 0.0F, from.h);
    const Rect strip{from.x, from.bottom() - taken, from.w, taken};
    from.h -= std::min(from.h, taken + gap);
    return strip;
}
[[nodiscard]] inline Rect cut_left(Rect& from, float width, float gap = 0.0F) {
    const float taken = std::clamp(width, 0.0F, from.w);
    const Rect strip{from.x, from.y, taken, from.h};
    const float gone = std::min(from.w, taken + gap);
    from.x += gone;
    from.w -= gone;
    return strip;
}
[[nodiscard]] inline Rect cut_right(Rect& from, float width, float gap = 0.0F) {
    const float taken = std::clamp(width, 0.0F, from.w);
    const Rect strip{from.right() - taken, from.y, taken, from.h};
    from.w -= std::min(from.w, taken + gap);
    return strip;
}

/// `count` equal columns with gaps between.
[[nodiscard]] inline std::vector<Rect> columns(const Rect& area, int count, float gap) {
    assert(count > 0 && "a row has at least one column");
    const auto n = static_cast<float>(count);
    const float width = std::max(0.0F, (area.w - gap * (n - 1.0F)) / n);
    std::vector<Rect> cells;
    for (int i = 0; i < count; ++i) {
        cells.push_back({area.x + static_cast<float>(i) * (width + gap), area.y, width, area.h});
    }
    return cells;
}

/// How many cells of at least `width` stand side by side in `area_width`, never fewer than one.
[[nodiscard]] inline int fitting(float area_width, float width, float gap) {
    return std::max(1, static_cast<int>((area_width + gap + 0.5F) / (width + gap)));
}

/// Rows a grid of `count` cells needs.
[[nodiscard]] inline int rows_for(int count, int per_row) {
    return (count + per_row - 1) / std::max(1, per_row);
}

/// Cell `index` of a grid whose rows are `height` tall.
struct Grid {
    Rect area;
    int per_row = 1;
    float height = 0.0F;
    float gap = 0.0F;

    [[nodiscard]] Rect cell(int index) const {
        const auto n = static_cast<float>(per_row);
        const float width = std::max(0.0F, (area.w - gap * (n - 1.0F)) / n);
        const auto column = static_cast<float>(index % per_row);
        const auto row = static_cast<float>(index / per_row);
        return {area.x + column * (width + gap), area.y + row * (height + gap), width, height};
    }
    [[nodiscard]] float total_height(int count) const {
        const auto rows = static_cast<float>(rows_for(count, per_row));
        return rows <= 0.0F ? 0.0F : rows * height + (rows - 1.0F) * gap;
    }
};

}  // namespace wm::screens
