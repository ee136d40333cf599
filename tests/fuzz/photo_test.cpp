// What a camera hands over: pictures that are taken in, and what their heads say beside another reader.
#include "fuzz/second_reader.hpp"
#include "fuzz/spoil.hpp"
#include "photo/intake.hpp"
#include "photo/jpeg_coder.hpp"
#include "photo/testing.hpp"

using namespace wm;

namespace {

std::string try_image(const std::string& bytes) {
    const auto photo = photo::take_in(bytes, "a.jpg");
    if (!photo) return fuzz::fault_of(photo);
    if (photo->width < 1 || photo->height < 1 || photo->width > 1600 || photo->height > 1600) return "a photo of no size";
    return photo::is_sound_jpeg(photo->jpeg) ? "" : "taken in, and yet no sound picture";
}

/// The JPEGs of the corpus as they are, and turned in every way there is and in two that there are not.
std::vector<std::string> turned_pictures() {
    std::vector<std::string> pictures;
    for (const auto& image : fuzz::corpus("image")) {
        if (!photo::is_sound_jpeg(image)) continue;
        pictures.push_back(image);
        for (unsigned char orientation = 0; orientation <= 9; ++orientation)
            pictures.push_back(photo::testing::with_exif(image, orientation));
    }
    return pictures;
}

}  // namespace

TEST_CASE("pictures: a spoilt one is refused in words or becomes a sound photo") {
    fuzz::run("images", fuzz::corpus("image"), 1'500, try_image);
}

TEST_CASE("heads of pictures: width, height and turning of what is taken are those that another reader finds") {
    // Source: Pillow 9.4, which reads the markers of a JPEG and its EXIF with code of its own.
    const auto pictures = turned_pictures();
    REQUIRE(pictures.size() == 22);
    fuzz::SecondReader pillow{"photo", 600};
    std::size_t turned = 0;
    fuzz::run("heads of pictures", pictures, 2'500, [&](const std::string& bytes) -> std::string {
        if (!photo::is_sound_jpeg(bytes)) return "";
        const auto head = photo::jpeg_head(bytes);
        if (!head) return "a sound picture without a head";
        const int orientation = photo::exif_orientation(bytes);
        turned += orientation > 1 ? 1 : 0;
        pillow.add(bytes, nlohmann::json{head->width, head->height, orientation});
        return "";
    });
    CHECK(turned > 100);
    pillow.must_agree();
}
