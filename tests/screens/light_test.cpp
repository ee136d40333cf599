// What is left of contrast in full sun, in black and white, and for eyes that see fewer colours.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <bitset>
#include <cmath>
#include <numbers>

#include "drawing/recorded.hpp"
#include "figures/outcome_mark.hpp"
#include "screens/theme.hpp"

using namespace wm;
using namespace wm::screens;
using drawing::Colour;
using drawing::Ink;
using measure::Outcome;

namespace {

constexpr Outcome outcomes[] = {Outcome::Open,         Outcome::Conforms, Outcome::DoesNotConform,
                                Outcome::Inconclusive, Outcome::Deferred, Outcome::NotApplicable};
constexpr Look looks[] = {Look::Day, Look::Night, Look::Sun};

using Linear = std::array<double, 3>;

// Source: WCAG 2.1, definition of relative luminance: sRGB taken apart, weights 0.2126, 0.7152, 0.0722.
double channel(double value) {
    const double c = value / 255.0;
    return c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}
Linear linear(Colour c) {
    return {channel(c.red), channel(c.green), channel(c.blue)};
}
double luminance(const Linear& c) {
    return 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2];
}

/// Contrast of two colours on a panel of 700 cd/m² that throws back 2 % of `lux`, scattered evenly: luminance of the
/// haze = 0.02 x lux / pi. Source: the WCAG ratio with this haze in the place of its fixed 0.05 of white, which
/// stands for an office.
double contrast_under(double lux, Colour a, Colour b) {
    constexpr double white_cd_m2 = 700.0;
    constexpr double reflectance = 0.02;
    const double haze = reflectance * lux / std::numbers::pi;
    const double one = white_cd_m2 * luminance(linear(a)) + haze;
    const double other = white_cd_m2 * luminance(linear(b)) + haze;
    return std::max(one, other) / std::min(one, other);
}

/// Source: Machado, Oliveira and Fernandes 2009, A physiologically-based model for simulation of color vision
/// deficiency, IEEE Trans. Vis. Comput. Graph. 15(6), table of severity 1.0, for linear RGB.
struct Eyes {
    const char* name;
    std::array<Linear, 3> rows;
};
constexpr Eyes eyes[] = {
    {"protanopia", {{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}}},
    {"deuteranopia", {{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}}},
    {"tritanopia", {{{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}}},
};

double contrast_seen(const Eyes& by, Colour a, Colour b) {
    const auto seen = [&](Colour c) {
        const Linear from = linear(c);
        Linear to{};
        for (std::size_t i = 0; i < 3; ++i) {
            const double sum = by.rows[i][0] * from[0] + by.rows[i][1] * from[1] + by.rows[i][2] * from[2];
            to[i] = std::clamp(sum, 0.0, 1.0);
        }
        return luminance(to);
    };
    const double one = seen(a) + 0.05;
    const double other = seen(b) + 0.05;
    return std::max(one, other) / std::min(one, other);
}

// A mark of 8 mm in cells of a third of a millimetre: what an eye resolves at arm's length with ease.
constexpr int cells = 27;
constexpr double size_mm = 8.0;
using Bitmap = std::bitset<cells * cells>;

double distance_to(drawing::Point p, drawing::Point a, drawing::Point b) {
    const double dx = b.x - a.x;
    const double dy = b.y - a.y;
    const double length = dx * dx + dy * dy;
    const double t = length > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / length, 0.0, 1.0) : 0.0;
    return std::hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

bool inside(drawing::Point p, const std::vector<drawing::Point>& corners) {
    bool in = false;
    for (std::size_t i = 0, j = corners.size() - 1; i < corners.size(); j = i++) {
        const auto& a = corners[i];
        const auto& b = corners[j];
        if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x) in = !in;
    }
    return in;
}

bool near_polyline(drawing::Point p, std::vector<drawing::Point> points, drawing::Ends ends, double width) {
    if (ends == drawing::Ends::Closed) points.push_back(points.front());
    for (std::size_t i = 1; i < points.size(); ++i)
        if (distance_to(p, points[i - 1], points[i]) <= width / 2.0) return true;
    return false;
}

/// The ink a command puts on a point. Letters count as their box: the question mark adds to its mark, never takes.
std::optional<Ink> ink_at(const drawing::Drawn& drawn, drawing::Point p) {
    if (const auto* s = std::get_if<drawing::DrawnStroke>(&drawn)) {
        if (near_polyline(p, s->points, s->ends, s->stroke.width_mm)) return s->stroke.ink;
    } else if (const auto* f = std::get_if<drawing::DrawnFill>(&drawn)) {
        if (inside(p, f->points)) return f->ink;
    } else if (const auto* c = std::get_if<drawing::DrawnCircle>(&drawn)) {
        const double away = std::hypot(p.x - c->centre.x, p.y - c->centre.y);
        const bool filled = c->stroke.width_mm <= 0.0;
        if (filled ? away <= c->radius_mm : std::abs(away - c->radius_mm) <= c->stroke.width_mm / 2.0)
            return c->stroke.ink;
    } else if (const auto* b = std::get_if<drawing::DrawnBox>(&drawn)) {
        const std::vector<drawing::Point> corners{{b->box.left, b->box.top},
                                                  {b->box.right(), b->box.top},
                                                  {b->box.right(), b->box.bottom()},
                                                  {b->box.left, b->box.bottom()}};
        if (b->stroke.width_mm <= 0.0) {
            if (inside(p, corners)) return b->stroke.ink;
        } else if (near_polyline(p, corners, drawing::Ends::Closed, b->stroke.width_mm)) {
            return b->stroke.ink;
        }
    } else if (const auto* t = std::get_if<drawing::DrawnText>(&drawn)) {
        const auto box = drawing::box_of(*t);
        if (p.x >= box.left && p.x <= box.right() && p.y >= box.top && p.y <= box.bottom()) return t->style.ink;
    }
    return std::nullopt;
}

/// The mark as two tones: every ink but the paper is black.
Bitmap black_and_white(Outcome outcome) {
    drawing::RecordedCanvas canvas;
    figures::draw_outcome_mark(canvas, outcome, {size_mm / 2.0, size_mm / 2.0}, 0.86 * size_mm);
    Bitmap map;
    for (int y = 0; y < cells; ++y) {
        for (int x = 0; x < cells; ++x) {
            const drawing::Point p{(x + 0.5) * size_mm / cells, (y + 0.5) * size_mm / cells};
            Ink ink = Ink::Paper;
            for (const auto& drawn : canvas.drawn()) ink = ink_at(drawn, p).value_or(ink);
            map[static_cast<std::size_t>(y * cells + x)] = ink != Ink::Paper;
        }
    }
    return map;
}

}  // namespace

TEST_CASE("the haze of full sun leaves black on white 3.2 to 1, and the formula agrees with the hand") {
    // 0.02 x 50,000 / pi = 318.3 cd/m²; (700 + 318.3) / 318.3 = 3.199.
    CHECK(contrast_under(50'000.0, {0, 0, 0}, {255, 255, 255}) == doctest::Approx(3.199).epsilon(0.001));
    CHECK(contrast_under(0.0, {119, 119, 119}, {255, 255, 255}) > 4.47);
}

TEST_CASE("in full sun the sun look keeps letters and marks at 3 to 1") {
    // Source: WCAG 2.1, 1.4.3 for large letters and 1.4.11 for graphics: 3 : 1. No pair can do better than 3.2.
    const Theme sun = theme_of(Look::Sun);
    for (const TextPair& pair : text_pairs(sun)) {
        if (pair.name == "marked letters") continue;  // marked for the next key press only
        CAPTURE(pair.name);
        CHECK(contrast_under(50'000.0, pair.letters, pair.ground) >= 3.0);
    }
    for (const Outcome outcome : outcomes) {
        CAPTURE(measure::in_words(outcome));
        CHECK(contrast_under(50'000.0, sun.ink(figures::ink_of(outcome)), sun.paper) >= 3.0);
    }
    for (const Ink ink : {Ink::Hairline, Ink::Hot, Ink::Cold, Ink::Fluid, Ink::Sun})
        CHECK(contrast_under(50'000.0, sun.ink(ink), sun.paper) >= 3.0);
    CHECK(contrast_under(50'000.0, sun.line, sun.paper) >= 3.0);
}

TEST_CASE("in the shade of a roof the day look keeps 4.5 to 1") {
    // 10,000 lx, the shade of a clear day. Common practice, no source. Bound: WCAG 2.1, 1.4.3.
    const Theme day = theme_of(Look::Day);
    for (const TextPair& pair : text_pairs(day)) {
        CAPTURE(pair.name);
        CHECK(contrast_under(10'000.0, pair.letters, pair.ground) >= 4.5);
    }
}

TEST_CASE("marks of two outcomes differ in pure black and white over a tenth of their area") {
    for (const Outcome a : outcomes) {
        for (const Outcome b : outcomes) {
            if (a == b) continue;
            CAPTURE(measure::in_words(a));
            CAPTURE(measure::in_words(b));
            const auto differing = (black_and_white(a) ^ black_and_white(b)).count();
            CHECK(static_cast<double>(differing) >= 0.1 * cells * cells);
            CHECK(measure::in_words(a) != measure::in_words(b));
        }
    }
}

TEST_CASE("eyes that see fewer colours keep every mark and word at 4.5 to 1 on its ground") {
    // Bound: WCAG 2.1, 1.4.3. Shape and word carry the outcome; here nothing of them may fade.
    for (const Look look : looks) {
        const Theme theme = theme_of(look);
        for (const Eyes& by : eyes) {
            CAPTURE(in_words(look));
            CAPTURE(by.name);
            for (const TextPair& pair : text_pairs(theme)) {
                CAPTURE(pair.name);
                CHECK(contrast_seen(by, pair.letters, pair.ground) >= 4.5);
            }
            for (const Outcome outcome : outcomes)
                CHECK(contrast_seen(by, theme.ink(figures::ink_of(outcome)), theme.paper) >= 4.5);
        }
    }
}
