// What the parts of a page are, for those who do not see it: headings, tables, figures, in order.
//
// The page library cannot tag. So a page that is drawn marks where each part begins and ends by an
// operator that has no effect on our pages (the mitre limit; all our joins are round), and the tree
// of the parts rides behind the last byte of what was drawn. The pass before sealing turns the marks
// into marked content and the tree into a structure tree. Source: ISO 32000-1:2008, 14.6 to 14.8.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "drawing/canvas.hpp"

namespace wm::handover {

enum class Role { Title, Heading, Subheading, Paragraph, Table, Row, HeadCell, Cell, Figure, Artifact };

/// A run of marked content: the page counted from 0, and the number of the run on it.
struct TagPiece {
    int page = 0;
    int run = 0;
};

struct TagNode {
    Role role = Role::Paragraph;
    int parent = -1;          ///< index of a node before this one; -1 for the document
    int columns = 1;          ///< that a cell spans
    std::string alternative;  ///< what a figure shows, in words
    std::string language{};   ///< "en"; empty for that of the file
    std::vector<TagPiece> pieces;
};

using TagTree = std::vector<TagNode>;

/// A canvas that keeps the parts. All canvases of a book share one tree and one stack of open parts.
class TaggingCanvas {
public:
    TaggingCanvas() = default;
    TaggingCanvas(const TaggingCanvas&) = delete;
    TaggingCanvas& operator=(const TaggingCanvas&) = delete;
    virtual ~TaggingCanvas() = default;

    /// From here on text outside any part becomes paragraphs and headings by its style, and what is
    /// drawn there is decoration. Without this call nothing is marked.
    virtual void start_tagging() = 0;
    /// The index of the part; -1 while nothing is marked.
    virtual int open(TagNode part) = 0;
    virtual void reopen(int part) = 0;
    virtual void close() = 0;
    /// The language of the parts that are made from here on, on all pages; empty for that of the file.
    virtual void speak(const std::string& language) = 0;
};

/// A part that is open as long as this lives. On a canvas that keeps no parts it does nothing.
class TagScope {
public:
    TagScope(drawing::Canvas& on, Role role, std::string alternative = {}, int columns = 1);
    /// Goes on with a part that was open before, on any page of the book.
    TagScope(drawing::Canvas& on, int part);
    TagScope(const TagScope&) = delete;
    TagScope& operator=(const TagScope&) = delete;
    ~TagScope();

    [[nodiscard]] int part() const { return part_; }

private:
    TaggingCanvas* on_;
    int part_ = -1;
};

/// Starts tagging if the canvas can.
void start_tagging(drawing::Canvas& on);

/// From here on parts are in this language, if the canvas keeps parts; empty for that of the file.
void speak(drawing::Canvas& on, const std::string& language);

/// The codes of the marks, as mitre limits: end of a run, begin of decoration, begin of run n.
inline constexpr int end_mark = 998;
inline constexpr int artifact_mark = 999;
inline constexpr int first_run_mark = 1000;

/// The file and the tree behind it, as one text and back. A text without a tree has an empty one.
[[nodiscard]] std::string with_tree(std::string file, const TagTree& tree);
[[nodiscard]] std::pair<std::string, TagTree> without_tree(std::string_view file_and_tree);

}  // namespace wm::handover
