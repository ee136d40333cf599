#include "drawing/palette.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace wm::drawing {

namespace {

double linear(std::uint8_t channel) {
    const double c = channel / 255.0;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

double luminance(Colour c) {
    return 0.2126 * linear(c.red) + 0.7152 * linear(c.green) + 0.0722 * linear(c.blue);
}

}  // namespace

Colour paper_colour(Ink ink) {
    switch (ink) {
        case Ink::Text:
            return {28, 32, 38};
        case Ink::Faint:
            return {76, 80, 88};
        case Ink::Hairline:
            return {176, 178, 182};
        case Ink::Paper:
            return {255, 255, 255};
        case Ink::Tint:
            return {241, 239, 232};
        case Ink::Good:
            return {16, 86, 68};
        case Ink::Bad:
            return {150, 22, 30};
        case Ink::Unsure:
            return {108, 64, 0};
        case Ink::Waiting:
            return {66, 74, 120};
        case Ink::Accent:
            return {122, 62, 22};
        case Ink::Hot:
            return {188, 62, 40};
        case Ink::Cold:
            return {44, 110, 170};
        case Ink::Fluid:
            return {126, 84, 150};
        case Ink::Sun:
            return {214, 150, 20};
    }
    assert(false && "every ink has a colour on paper");
    return {};
}

double contrast(Colour a, Colour b) {
    const auto [low, high] = std::minmax({luminance(a), luminance(b)});
    return (high + 0.05) / (low + 0.05);
}

}  // namespace wm::drawing
