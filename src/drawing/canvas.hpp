// The one surface everything is drawn on: screen, page, recording and SVG file each implement it.
#pragma once

#include <span>
#include <string_view>

namespace wm::drawing {

/// A place on the sheet in millimetres; x to the right, y downward, origin at the top left.
struct Point {
    double x = 0.0;
    double y = 0.0;
    friend bool operator==(const Point&, const Point&) = default;
};

/// An upright rectangle in millimetres.
struct Box {
    double left = 0.0;
    double top = 0.0;
    double width = 0.0;
    double height = 0.0;
    [[nodiscard]] double right() const { return left + width; }
    [[nodiscard]] double bottom() const { return top + height; }
    [[nodiscard]] Point middle() const { return {left + width / 2.0, top + height / 2.0}; }
    friend bool operator==(const Box&, const Box&) = default;
};

/// A colour by its role. Each backend maps roles to its theme; no drawing names a colour.
/// Outcomes are told apart by shape first: Good, Bad, Unsure and Waiting only repeat the shape.
enum class Ink {
    Text,      ///< words and main lines
    Faint,     ///< secondary words; still readable
    Hairline,  ///< table rules, grids
    Paper,     ///< the background
    Tint,      ///< a quiet panel on the background
    Good,
    Bad,
    Unsure,
    Waiting,
    Accent,  ///< our own mark, current item
    Hot,     ///< hot water
    Cold,    ///< cold water
    Fluid,   ///< heat transfer fluid
    Sun,
};
inline constexpr int ink_count = 14;

enum class Weight { Regular, Bold, Mono };

/// Where the given point sits on the text: horizontally at its start, middle or end, vertically
/// always on the base line.
enum class Anchor { Start, Middle, End };

/// size_mm is the em height (cap height is about 0.73 of it in the faces used).
struct TextStyle {
    double size_mm = 3.2;
    Weight weight = Weight::Regular;
    Ink ink = Ink::Text;
    Anchor anchor = Anchor::Start;
};

struct Stroke {
    Ink ink = Ink::Text;
    double width_mm = 0.25;
};

enum class Ends { Open, Closed };

/// Every call draws at once and on top of what is there. Text is UTF-8, one line, no control
/// characters; wrapping is the caller's (text_block.hpp). Backends never throw.
class Canvas {
public:
    Canvas() = default;
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;
    virtual ~Canvas() = default;

    /// Joins the points in order; fewer than two points draw nothing.
    virtual void stroke(std::span<const Point> points, Ends ends, Stroke stroke) = 0;
    /// The polygon must be convex (screens cannot fill others); fewer than three draw nothing.
    virtual void fill(std::span<const Point> convex, Ink ink) = 0;
    virtual void stroke_circle(Point centre, double radius_mm, Stroke stroke) = 0;
    virtual void fill_circle(Point centre, double radius_mm, Ink ink) = 0;
    /// radius_mm is that of the corners; 0 gives a plain rectangle.
    virtual void stroke_box(Box box, double radius_mm, Stroke stroke) = 0;
    virtual void fill_box(Box box, double radius_mm, Ink ink) = 0;
    virtual void text(Point at, std::string_view words, const TextStyle& style) = 0;
    /// Width in millimetres that text() would take.
    [[nodiscard]] virtual double text_width(std::string_view words,
                                            const TextStyle& style) const = 0;

    void line(Point from, Point to, Stroke with) {
        const Point ends[] = {from, to};
        stroke(ends, Ends::Open, with);
    }
};

}  // namespace wm::drawing
