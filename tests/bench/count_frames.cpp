// Put before a program that draws by GLFW (LD_PRELOAD): counts its frames in the file that WM_FRAMES names, 8 bytes, and with
// WM_FRAMES_END=1 ends it with the first one on the screen. The program itself stays as it is shipped.
#include <dlfcn.h>
#include <fcntl.h>
#include <sys/mman.h>
#include <unistd.h>

#include <cstdint>
#include <cstdlib>

extern "C" void glFinish(void);

extern "C" void glfwSwapBuffers(void* window) {
    using Swap = void (*)(void*);
    static const auto real = reinterpret_cast<Swap>(dlsym(RTLD_NEXT, "glfwSwapBuffers"));
    static volatile std::uint64_t* const count = [] {
        const char* name = std::getenv("WM_FRAMES");
        const int file = name == nullptr ? -1 : ::open(name, O_RDWR | O_CREAT, 0600);
        if (file < 0 || ::ftruncate(file, 8) != 0) return static_cast<std::uint64_t*>(nullptr);
        void* at = ::mmap(nullptr, 8, PROT_READ | PROT_WRITE, MAP_SHARED, file, 0);
        return at == MAP_FAILED ? nullptr : static_cast<std::uint64_t*>(at);
    }();
    real(window);
    if (count != nullptr) *count = *count + 1;
    if (std::getenv("WM_FRAMES_END") != nullptr) {
        glFinish();
        _exit(0);
    }
}
