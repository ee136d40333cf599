// Small pictures on their way to the glass, kept there as long as anybody shows them.
#pragma once

#include <map>
#include <memory>

#include "screens/small_picture.hpp"

namespace wm::screens {

/// Lives and ends while the OpenGL context of the window is current.
class Textures {
public:
    Textures() = default;
    ~Textures();
    Textures(const Textures&) = delete;
    Textures& operator=(const Textures&) = delete;

    /// Uploads it at the first call. 0 for a picture without a size.
    [[nodiscard]] std::uint64_t of(const SharedPicture& picture);
    /// Frees those of pictures that are gone. Once a frame, after it was drawn.
    void drop_gone();

private:
    struct Kept {
        std::weak_ptr<const SmallPicture> picture;
        unsigned name = 0;
    };
    std::map<const SmallPicture*, Kept> kept_;
};

}  // namespace wm::screens
