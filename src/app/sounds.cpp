#include "app/sounds.hpp"

#include <alsa/asoundlib.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>
#include <numbers>
#include <utility>

namespace wm::app {

namespace {

constexpr int rate = tone_rate;

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

void say_nothing(const char*, int, const char*, int, const char*, ...) {}

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

bool play_on_device(const std::vector<std::int16_t>& samples) {
    // The library writes its troubles to the terminal unless it is told not to.
    snd_lib_error_set_handler(&say_nothing);
    snd_pcm_t* opened = nullptr;
    if (snd_pcm_open(&opened, "default", SND_PCM_STREAM_PLAYBACK, SND_PCM_NONBLOCK) != 0) return false;
    const std::unique_ptr<snd_pcm_t, int (*)(snd_pcm_t*)> device{opened, &snd_pcm_close};
    constexpr unsigned latency_us = 200'000;
    if (snd_pcm_nonblock(opened, 0) != 0 ||
        snd_pcm_set_params(opened, SND_PCM_FORMAT_S16_LE, SND_PCM_ACCESS_RW_INTERLEAVED, 1, tone_rate, 1, latency_us) != 0)
        return false;
    std::size_t done = 0;
    while (done < samples.size()) {
        const auto wrote = snd_pcm_writei(opened, samples.data() + done, samples.size() - done);
        if (wrote < 0 && snd_pcm_recover(opened, static_cast<int>(wrote), 1) < 0) return false;
        if (wrote > 0) done += static_cast<std::size_t>(wrote);
    }
    return snd_pcm_drain(opened) == 0;
}

void ring_bell() {
    std::fputc('\a', stderr);
    std::fflush(stderr);
}

Speaker::Speaker(Play play)
    : play_{std::move(play)}, thread_{[this] {
          while (const auto tone = tones_.take())
              if (tones_.size() < 2) play_(*tone);
      }} {}

Speaker::~Speaker() {
    (void)tones_.take_all();
    tones_.close();
    thread_.join();
}

void Speaker::ring(Tone tone) { tones_.put(tone); }

void play_tone(Tone tone) {
    if (!play_on_device(samples_of(tone))) ring_bell();
}

}  // namespace wm::app
