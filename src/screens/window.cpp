// GLFW and OpenGL around the frames.
#include "screens/window.hpp"

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>
#include <stb/stb_image_write.h>

#include <algorithm>
#include <cmath>
#include <deque>
#include <future>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "screens/textures.hpp"

namespace wm::screens {
namespace {

constexpr int frames_after_event = 3;

struct Ender {
    void operator()(GLFWwindow* window) const { glfwDestroyWindow(window); }
};
using WindowPointer = std::unique_ptr<GLFWwindow, Ender>;

/// GLFW from start to end.
class Library {
public:
    Library() : started_{glfwInit() == GLFW_TRUE} {}
    ~Library() {
        if (started_) glfwTerminate();
    }
    Library(const Library&) = delete;
    Library& operator=(const Library&) = delete;
    [[nodiscard]] bool started() const { return started_; }

private:
    bool started_;
};

/// ImGui with its two backends on one window.
class Painter {
public:
    Painter(GLFWwindow* window, ImFontAtlas& letters) {
        ImGui::CreateContext(&letters);
        prepare_context();
        ImGui_ImplGlfw_InitForOpenGL(window, true);
        ImGui_ImplOpenGL3_Init("#version 130");
        // Tab moves our own ring through all keys, not ImGui's through text fields only.
        ImGui::GetIO().KeyMap[ImGuiKey_Tab] = -1;
    }
    ~Painter() {
        ImGui_ImplOpenGL3_Shutdown();
        ImGui_ImplGlfw_Shutdown();
        ImGui::DestroyContext();
    }
    Painter(const Painter&) = delete;
    Painter& operator=(const Painter&) = delete;
};

Problem no_window(std::string_view reason) {
    return {.what = "The window could not be opened: " + std::string{reason} + ".",
            .where = "display",
            .what_to_do =
                "Check that a display is there (DISPLAY or WAYLAND_DISPLAY is set) and "
                "that it offers OpenGL 3; the command line works without.",
            .kind = ProblemKind::NotStored};
}

/// From what the monitor says of itself, if that is believable; else 96 dots per inch.
float monitor_px_per_mm() {
    constexpr float usual = 3.78F;
    GLFWmonitor* monitor = glfwGetPrimaryMonitor();
    if (monitor == nullptr) return usual;
    int width_mm = 0;
    int height_mm = 0;
    glfwGetMonitorPhysicalSize(monitor, &width_mm, &height_mm);
    const GLFWvidmode* mode = glfwGetVideoMode(monitor);
    if (mode == nullptr || width_mm <= 0) return usual;
    const float density = static_cast<float>(mode->width) / static_cast<float>(width_mm);
    return density >= 2.5F && density <= 25.0F ? density : usual;
}

bool same_letters(const Metrics& a, const Metrics& b) {
    return std::abs(a.px_per_mm - b.px_per_mm) < 0.001F && a.text_percent == b.text_percent;
}

/// The letters of the first frame, drawn while the driver sets up the window: both take about as long.
class Letters {
public:
    /// ImGui counts its memory in the context, so there is none until `wait`.
    Letters(const FontFiles& files, const Metrics& metrics)
        : metrics_{metrics}, drawing_{std::async(std::launch::async, [this, &files] {
              fonts_ = load_fonts(atlas_, files, metrics_);
              unsigned char* pixels = nullptr;
              int width = 0;
              int height = 0;
              atlas_.GetTexDataAsRGBA32(&pixels, &width, &height);
          })} {}
    /// The atlas, with its letters in it.
    [[nodiscard]] ImFontAtlas& wait() {
        drawing_.get();
        return atlas_;
    }
    [[nodiscard]] const Metrics& metrics() const { return metrics_; }
    [[nodiscard]] const Fonts& fonts() const { return fonts_; }

private:
    Metrics metrics_;
    ImFontAtlas atlas_;
    Fonts fonts_;
    std::future<void> drawing_;
};

Result<void> write_picture(GLFWwindow* window, const std::string& path) {
    int width = 0;
    int height = 0;
    glfwGetFramebufferSize(window, &width, &height);
    const auto row = static_cast<std::size_t>(width) * 3;
    std::vector<unsigned char> upward(row * static_cast<std::size_t>(height));
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, width, height, GL_RGB, GL_UNSIGNED_BYTE, upward.data());
    std::vector<unsigned char> downward(upward.size());
    for (int y = 0; y < height; ++y) {
        const auto from = upward.begin() + static_cast<std::ptrdiff_t>(row) * (height - 1 - y);
        std::copy(from, from + static_cast<std::ptrdiff_t>(row),
                  downward.begin() + static_cast<std::ptrdiff_t>(row) * y);
    }
    if (stbi_write_png(path.c_str(), width, height, 3, downward.data(), width * 3) != 0) return {};
    return refused({.what = "The picture of the window could not be written.",
                    .where = path,
                    .what_to_do = "Check that the folder exists and has room.",
                    .kind = ProblemKind::NotStored});
}

/// Keys that went down since the last frame; filled by the callback below.
std::vector<int>& pressed_keys() {
    static std::vector<int> keys;
    return keys;
}

GLFWkeyfun next_key_callback = nullptr;

void note_key(GLFWwindow* window, int key, int code, int action, int mods) {
    if (action == GLFW_PRESS && key >= 0 && key < 512) pressed_keys().push_back(key);
    if (next_key_callback != nullptr) next_key_callback(window, key, code, action, mods);
}

/// The finger came down or left, and where. A slow frame gathers several; each is taken up in a frame of its own, where it was.
struct FingerMoved {
    float x = 0.0F, y = 0.0F;
    bool down = false;
};
std::deque<FingerMoved>& finger_moves() {
    static std::deque<FingerMoved> moves;
    return moves;
}

std::optional<ImVec2> finger_at;
GLFWmousebuttonfun next_button_callback = nullptr;
GLFWcursorposfun next_cursor_callback = nullptr;

void note_cursor(GLFWwindow* window, double x, double y) {
    finger_at = ImVec2{static_cast<float>(x), static_cast<float>(y)};
    if (next_cursor_callback != nullptr) next_cursor_callback(window, x, y);
}

void note_button(GLFWwindow* window, int button, int action, int mods) {
    if (button == GLFW_MOUSE_BUTTON_LEFT && finger_at) finger_moves().push_back({finger_at->x, finger_at->y, action == GLFW_PRESS});
    if (next_button_callback != nullptr) next_button_callback(window, button, action, mods);
}

/// The state of one run of the window.
class Run {
public:
    Run(const WindowOptions& options, const Link& link, GLFWwindow* window, const Metrics& wanted, const Letters& letters)
        : options_{options}, link_{link}, window_{window}, letters_{letters}, wanted_{wanted} {
        next_key_callback = glfwSetKeyCallback(window, note_key);
        next_button_callback = glfwSetMouseButtonCallback(window, note_button);
        next_cursor_callback = glfwSetCursorPosCallback(window, note_cursor);
        dress_.theme = theme_of(options.look);
        dress_.texture_of = [this](const SharedPicture& picture) { return textures_.of(picture); };
        wanted_sound_ = options.sound;
        drafts_.screen = options.first_screen;
        drafts_.jobs.plan.is_open = options.days_ahead;
        drafts_.run.wanted = options.first_check;
        drafts_.resume = options.resume;
        drafts_.series = options.running;
        if (options.first_register) {
            drafts_.screen = Screen::Settings;
            drafts_.registers.shown = options.first_register;
            link.post(AskRegister{*options.first_register});
        }
        if (options.on_bench) {
            drafts_.screen = Screen::Settings;
            drafts_.registers.shown = desk::Register::Checklists;
            drafts_.registers.workshop.list = options.on_bench->list;
            link.post(AskRegister{desk::Register::Checklists});
            link.post(*options.on_bench);
        }
    }

    [[nodiscard]] Result<void> until_closed() {
        int awake = frames_after_event;
        int drawn = 0;
        while (!quit_ && glfwWindowShouldClose(window_) == GLFW_FALSE) {
            if (awake > 0 || !options_.picture_to.empty()) {
                glfwPollEvents();
                --awake;
            } else {
                sleep();
                awake = frames_after_event;
            }
            draw();
            // What came in while frames were still due has to be drawn to its end as well: ImGui takes up a press and
            // its release in two frames, however fast they came.
            if (input_moved() || news_taken() || !finger_moves().empty()) awake = frames_after_event;
            if (options_.picture_to.empty()) continue;
            // A picture of a screen still waiting for its facts shows nothing.
            drawn = world_.listed && !world_.saving ? drawn + 1 : 0;
            if (drawn >= options_.picture_after)
                return write_picture(window_, options_.picture_to);
        }
        return {};
    }

private:
    /// A press that was over before the frame looked, as a scanner types, counts as held for this one frame.
    void hold_short_presses() {
        ImGuiIO& io = ImGui::GetIO();
        for (const int key : std::exchange(held_for_a_frame_, {})) io.KeysDown[key] = glfwGetKey(window_, key) == GLFW_PRESS;
        for (const int key : std::exchange(pressed_keys(), {})) {
            if (io.KeysDown[key]) continue;
            io.KeysDown[key] = true;
            held_for_a_frame_.push_back(key);
        }
    }

    /// What was touched while a frame was drawn, one change a frame: else a second touch would stand in the place of the first.
    static void take_up_finger() {
        auto& moves = finger_moves();
        if (moves.empty()) return;
        ImGuiIO& io = ImGui::GetIO();
        io.MousePos = {moves.front().x, moves.front().y};
        io.MouseDown[0] = moves.front().down;
        moves.pop_front();
    }

    bool input_moved() {
        const Hands now = hands_now();
        const bool moved = !(now == seen_);
        seen_ = now;
        return moved;
    }

    /// What the desk answered in the last frame that was due, some of the frame was drawn too early to show.
    bool news_taken() {
        const bool taken = world_.answered != answered_seen_;
        answered_seen_ = world_.answered;
        return taken;
    }

    void sleep() {
        if (glfwGetMouseButton(window_, GLFW_MOUSE_BUTTON_LEFT) == GLFW_PRESS) {
            glfwWaitEventsTimeout(0.05);
        } else if (const auto seconds = earlier(seconds_to_redraw(drafts_.series), seconds_to_lock(world_, drafts_.lock))) {
            glfwWaitEventsTimeout(std::max(0.01, *seconds));
        } else {
            glfwWaitEvents();
        }
    }

    static std::optional<double> earlier(std::optional<double> a, std::optional<double> b) {
        return a && b ? std::min(*a, *b) : a ? a : b;
    }

    void draw() {
        dress_for_size();
        link_.refresh(world_);
        if (world_.typed) drafts_.run.from_before = std::exchange(world_.typed, std::nullopt);
        world_.sound = wanted_sound_;
        world_.lock_minutes = options_.picture_to.empty() ? world_.lock.minutes.value_or(options_.lock_minutes) : 0;
        ImGui_ImplOpenGL3_NewFrame();
        ImGui_ImplGlfw_NewFrame();
        hold_short_presses();
        take_up_finger();
        ImGui::NewFrame();
        const Requests requests = draw_frame(world_, drafts_, dress_, nullptr);
        ImGui::Render();
        int width = 0;
        int height = 0;
        glfwGetFramebufferSize(window_, &width, &height);
        glViewport(0, 0, width, height);
        const drawing::Colour paper = dress_.theme.paper;
        glClearColor(static_cast<float>(paper.red) / 255.0F,
                     static_cast<float>(paper.green) / 255.0F,
                     static_cast<float>(paper.blue) / 255.0F, 1.0F);
        glClear(GL_COLOR_BUFFER_BIT);
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
        if (options_.picture_to.empty()) glfwSwapBuffers(window_);
        textures_.drop_gone();
        for (const Request& request : requests) take_up(request);
    }

    void take_up(const Request& request) {
        if (const auto* look = std::get_if<ChooseLook>(&request))
            dress_.theme = theme_of(look->look);
        if (const auto* size = std::get_if<ChooseTextSize>(&request)) {
            wanted_.text_percent = size->percent;
        }
        if (const auto* scale = std::get_if<ChooseScale>(&request)) {
            wanted_.px_per_mm = scale->px_per_mm;
        }
        if (const auto* sound = std::get_if<ChooseSound>(&request)) wanted_sound_ = sound->sound;
        if (std::holds_alternative<Quit>(request)) quit_ = true;
        link_.post(request);
    }

    void dress_for_size() {
        int width = 0;
        int height = 0;
        glfwGetWindowSize(window_, &width, &height);
        const Metrics metrics =
            fitted(wanted_, static_cast<float>(width), static_cast<float>(height));
        const bool first = dress_.fonts.body == nullptr;
        const bool same = !first && same_letters(metrics, dress_.metrics);
        // The ruler follows the scale also where the letters stay, on a glass that everything shrank to fit.
        dress_.metrics = metrics;
        if (same) return;
        if (first && same_letters(metrics, letters_.metrics()))
            dress_.fonts = letters_.fonts();
        else
            dress_.fonts = load_fonts(*ImGui::GetIO().Fonts, options_.fonts, metrics);
        // Shaders and texture at once: a first frame without shaders would draw and send all letters a second time.
        if (!first) ImGui_ImplOpenGL3_DestroyFontsTexture();
        first ? ImGui_ImplOpenGL3_CreateDeviceObjects() : ImGui_ImplOpenGL3_CreateFontsTexture();
        // The driver has the letters now: our copy of them, as bytes and as colours, is some 40 MB.
        ImGui::GetIO().Fonts->ClearTexData();
    }

    Hands seen_;
    std::vector<int> held_for_a_frame_;
    const WindowOptions& options_;
    const Link& link_;
    GLFWwindow* window_;
    const Letters& letters_;
    Metrics wanted_;
    Sound wanted_sound_ = Sound::On;
    int answered_seen_ = 0;
    Textures textures_;
    Dress dress_;
    Drafts drafts_;
    World world_;
    bool quit_ = false;
};

}  // namespace

void wake_window() {
    glfwPostEmptyEvent();
}

Result<void> run_window(const WindowOptions& options, const Link& link) {
    const Library library;
    if (!library.started()) return refused(no_window("no display answered"));
    const Metrics wanted{.px_per_mm = options.px_per_mm.value_or(monitor_px_per_mm()), .text_percent = options.text_percent};
    Letters letters{options.fonts, fitted(wanted, static_cast<float>(options.width), static_cast<float>(options.height))};
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 0);
    const WindowPointer window{
        glfwCreateWindow(options.width, options.height, options.title.c_str(), nullptr, nullptr)};
    if (!window) return refused(no_window("the display offers no OpenGL 3"));
    glfwMakeContextCurrent(window.get());
    glfwSwapInterval(1);
    const Painter painter{window.get(), letters.wait()};
    if (auto ready = link.ready(); !ready) return ready;
    return Run{options, link, window.get(), wanted, letters}.until_closed();
}

}  // namespace wm::screens
