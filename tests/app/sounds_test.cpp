#include "app/sounds.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <cmath>
#include <mutex>
#include <set>
#include <thread>
#include <vector>

namespace wm::app {

namespace {

const Tone all_tones[] = {Tone::Conforms, Tone::DoesNotConform, Tone::Inconclusive, Tone::Due};

// Notes are parted by at least 20 ms of silence.
int notes_of(const std::vector<std::int16_t>& samples) {
    int notes = 0;
    int quiet = 1000;
    for (const auto sample : samples) {
        if (std::abs(sample) > 200) {
            if (quiet > 441) ++notes;
            quiet = 0;
        } else {
            ++quiet;
        }
    }
    return notes;
}

int crossings(const std::vector<std::int16_t>& samples, std::size_t from, std::size_t to) {
    int count = 0;
    for (std::size_t i = from + 1; i < to; ++i) count += (samples[i - 1] < 0) != (samples[i] < 0) ? 1 : 0;
    return count;
}

}  // namespace

TEST_CASE("the four tones differ in length, number of notes or pitch") {
    std::set<std::size_t> lengths;
    for (const auto tone : all_tones) lengths.insert(samples_of(tone).size());
    CHECK(lengths.size() == 4);
    CHECK(notes_of(samples_of(Tone::Conforms)) == 1);
    CHECK(notes_of(samples_of(Tone::DoesNotConform)) == 3);
    CHECK(notes_of(samples_of(Tone::Inconclusive)) == 1);
    CHECK(notes_of(samples_of(Tone::Due)) == 4);
}

TEST_CASE("conforms rises, does not conform is the lowest") {
    const auto fine = samples_of(Tone::Conforms);
    const std::size_t first = 22050 * 9 / 100;
    const double before = crossings(fine, 0, first) / static_cast<double>(first);
    const double after = crossings(fine, first, fine.size()) / static_cast<double>(fine.size() - first);
    CHECK(after > 1.3 * before);
    const auto bad = samples_of(Tone::DoesNotConform);
    CHECK(crossings(bad, 0, 2000) < crossings(fine, 0, 2000));
}

TEST_CASE("no tone clips or begins with a click") {
    for (const auto tone : all_tones) {
        const auto samples = samples_of(tone);
        CHECK(std::abs(samples.front()) < 100);
        for (const auto sample : samples) REQUIRE(std::abs(sample) <= 9000);
    }
}

TEST_CASE("the WAV file says how long it is") {
    for (const auto tone : all_tones) {
        const auto wav = wav_of(tone);
        CHECK(wav.substr(0, 4) == "RIFF");
        CHECK(wav.substr(8, 8) == "WAVEfmt ");
        const auto number = [&](std::size_t at) {
            std::uint32_t value = 0;
            for (int i = 3; i >= 0; --i) value = value * 256 + static_cast<unsigned char>(wav[at + static_cast<std::size_t>(i)]);
            return value;
        };
        CHECK(number(4) == wav.size() - 8);
        CHECK(number(40) == wav.size() - 44);
        CHECK(number(24) == 22050);
    }
}

TEST_CASE("a speaker plays what it is given in order, and leaves out what comes too late") {
    std::vector<Tone> played;
    std::mutex gate;
    std::atomic<bool> begun = false;
    {
        std::unique_lock closed{gate};
        Speaker speaker{[&](Tone tone) {
            begun = true;
            const std::lock_guard wait{gate};
            played.push_back(tone);
        }};
        speaker.ring(Tone::Conforms);
        while (!begun) std::this_thread::yield();
        // Four come while the first one sounds: the last two are told.
        speaker.ring(Tone::Due);
        speaker.ring(Tone::Due);
        speaker.ring(Tone::Inconclusive);
        speaker.ring(Tone::DoesNotConform);
        closed.unlock();
        for (;;) {
            std::this_thread::yield();
            const std::lock_guard look{gate};
            if (played.size() == 3) break;
        }
    }
    CHECK(played == std::vector{Tone::Conforms, Tone::Inconclusive, Tone::DoesNotConform});
}

}  // namespace wm::app
