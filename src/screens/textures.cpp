#include "screens/textures.hpp"

#include <GLFW/glfw3.h>

namespace wm::screens {

Textures::~Textures() {
    for (const auto& [picture, kept] : kept_) glDeleteTextures(1, &kept.name);
}

std::uint64_t Textures::of(const SharedPicture& picture) {
    if (!picture || picture->width <= 0 || picture->height <= 0) return 0;
    // A place in memory may serve a second picture after the first is gone.
    if (const auto found = kept_.find(picture.get()); found != kept_.end()) {
        if (!found->second.picture.expired()) return found->second.name;
        glDeleteTextures(1, &found->second.name);
        kept_.erase(found);
    }
    Kept kept{picture, 0};
    GLint before = 0;
    glGetIntegerv(GL_TEXTURE_BINDING_2D, &before);
    glGenTextures(1, &kept.name);
    glBindTexture(GL_TEXTURE_2D, kept.name);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB, picture->width, picture->height, 0, GL_RGB, GL_UNSIGNED_BYTE, picture->rgb.data());
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glBindTexture(GL_TEXTURE_2D, static_cast<GLuint>(before));
    kept_.emplace(picture.get(), kept);
    return kept.name;
}

void Textures::drop_gone() {
    std::erase_if(kept_, [](const auto& each) {
        if (!each.second.picture.expired()) return false;
        glDeleteTextures(1, &each.second.name);
        return true;
    });
}

}  // namespace wm::screens
