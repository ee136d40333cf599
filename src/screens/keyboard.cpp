// Reads strokes and letters out of ImGui's input state.
#include "screens/keyboard.hpp"

#include <array>

#include <GLFW/glfw3.h>
#include <imgui.h>

namespace wm::screens {
namespace {

struct Binding {
    int key;
    Stroke stroke;
    bool in_fields;  ///< also while a text field is written in
};

constexpr std::array bindings{
    Binding{GLFW_KEY_ENTER, Stroke::Enter, false},
    Binding{GLFW_KEY_KP_ENTER, Stroke::Enter, false},
    Binding{GLFW_KEY_SPACE, Stroke::Space, false},
    Binding{GLFW_KEY_BACKSPACE, Stroke::Backspace, false},
    Binding{GLFW_KEY_ESCAPE, Stroke::Escape, true},
    Binding{GLFW_KEY_PAGE_UP, Stroke::PageUp, true},
    Binding{GLFW_KEY_PAGE_DOWN, Stroke::PageDown, true},
    Binding{GLFW_KEY_LEFT, Stroke::Left, false},
    Binding{GLFW_KEY_RIGHT, Stroke::Right, false},
    Binding{GLFW_KEY_UP, Stroke::Up, false},
    Binding{GLFW_KEY_DOWN, Stroke::Down, false},
    Binding{GLFW_KEY_F1, Stroke::F1, true},
    Binding{GLFW_KEY_F2, Stroke::F2, true},
    Binding{GLFW_KEY_F3, Stroke::F3, true},
    Binding{GLFW_KEY_F4, Stroke::F4, true},
    Binding{GLFW_KEY_F5, Stroke::F5, true},
    Binding{GLFW_KEY_F6, Stroke::F6, true},
    Binding{GLFW_KEY_F7, Stroke::F7, true},
    Binding{GLFW_KEY_F8, Stroke::F8, true},
};

void append_utf8(std::string& text, unsigned letter) {
    if (letter < 0x80U) {
        text += static_cast<char>(letter);
    } else if (letter < 0x800U) {
        text += static_cast<char>(0xC0U | (letter >> 6U));
        text += static_cast<char>(0x80U | (letter & 0x3FU));
    } else {
        text += static_cast<char>(0xE0U | (letter >> 12U));
        text += static_cast<char>(0x80U | ((letter >> 6U) & 0x3FU));
        text += static_cast<char>(0x80U | (letter & 0x3FU));
    }
}

bool struck(int key) {
    return ImGui::IsKeyPressed(key, true);
}

}  // namespace

Typing read_keyboard() {
    const ImGuiIO& io = ImGui::GetIO();
    Typing typing;
    for (const Binding& binding : bindings) {
        if (io.WantTextInput && !binding.in_fields) continue;
        if (struck(binding.key)) typing.add(binding.stroke);
    }
    if (struck(GLFW_KEY_TAB)) typing.add(io.KeyShift ? Stroke::TabBack : Stroke::Tab);
    if (io.KeyCtrl) {
        if (!io.WantTextInput && struck(GLFW_KEY_Z)) typing.add(Stroke::Undo);
        if (struck(GLFW_KEY_L)) typing.add(Stroke::Lock);
        if (struck(GLFW_KEY_EQUAL) || struck(GLFW_KEY_KP_ADD)) typing.add(Stroke::Larger);
        if (struck(GLFW_KEY_MINUS) || struck(GLFW_KEY_KP_SUBTRACT)) typing.add(Stroke::Smaller);
        return typing;
    }
    if (!io.WantTextInput) {
        for (const ImWchar letter : io.InputQueueCharacters) {
            if (letter >= 0x20) append_utf8(typing.letters, letter);
        }
    }
    return typing;
}

}  // namespace wm::screens
