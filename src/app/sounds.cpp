#include "app/sounds.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

namespace wm::app {

namespace {

constexpr int rate = 22050;

void add_note(std::vector<std::int16_t>& samples, double hertz, double seconds, double waver = 0.0) {
    const int count = static_cast<int>(seconds * rate);
    double phase = 0.0;
    for (int i = 0; i < count; ++i) {
        const double t = static_cast<double>(i) / rate;
        const double frequency = hertz * (1.0 + waver * std::sin(2.0 * std::numbers::pi * 6.0 * t));
        phase += 2.0 * std::numbers::pi * frequency / rate;
        // Soft edges, so that no tone begins with a click.
        const double edge = std::min({1.0, t / 0.01, (seconds - t) / 0.01});
        samples.push_back(static_cast<std::int16_t>(9000.0 * edge * std::sin(phase)));
    }
}

void add_silence(std::vector<std::int16_t>& samples, double seconds) {
    samples.insert(samples.end(), static_cast<std::size_t>(seconds * rate), 0);
}

void add_number(std::string& bytes, std::uint32_t value, int count) {
    for (int i = 0; i < count; ++i) bytes += static_cast<char>((value >> (8 * i)) & 0xFFU);
}

}  // namespace

std::vector<std::int16_t> samples_of(Tone tone) {
    std::vector<std::int16_t> samples;
    switch (tone) {
        case Tone::Conforms:
            add_note(samples, 660.0, 0.09);
            add_note(samples, 990.0, 0.14);
            break;
        case Tone::DoesNotConform:
            for (int i = 0; i < 3; ++i) {
                add_note(samples, 196.0, 0.12);
                add_silence(samples, 0.05);
            }
            break;
        case Tone::Inconclusive: add_note(samples, 440.0, 0.45, 0.06); break;
        case Tone::Due:
            for (int i = 0; i < 4; ++i) {
                add_note(samples, 1320.0, 0.07);
                add_silence(samples, 0.07);
            }
            break;
    }
    return samples;
}

std::string wav_of(Tone tone) {
    const auto samples = samples_of(tone);
    const auto size = static_cast<std::uint32_t>(samples.size() * 2);
    std::string bytes = "RIFF";
    add_number(bytes, 36 + size, 4);
    bytes += "WAVEfmt ";
    add_number(bytes, 16, 4);
    add_number(bytes, 1, 2);
    add_number(bytes, 1, 2);
    add_number(bytes, rate, 4);
    add_number(bytes, rate * 2, 4);
    add_number(bytes, 2, 2);
    add_number(bytes, 16, 2);
    bytes += "data";
    add_number(bytes, size, 4);
    for (const auto sample : samples) add_number(bytes, static_cast<std::uint16_t>(sample), 2);
    return bytes;
}

void ring(Tone) {
    std::fputc('\a', stderr);
    std::fflush(stderr);
}

}  // namespace wm::app
