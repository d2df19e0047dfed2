// A JACK client for latency_bench.py: presses keys at random times and listens for their sound.
//
//   latency_rig keys NAME SECONDS    a MIDI output "keys" and an audio input, as the client NAME;
//                                    prints a line when it is there, and one of JSON at the end
//   latency_rig bare NAME SECONDS [BEFORE]    does nothing, with its ear at the client BEFORE

#include "midi/message.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <jack/jack.h>
#include <jack/midiport.h>
#include <random>
#include <string>
#include <thread>
#include <vector>

using namespace landfall::midi;
using std::chrono::milliseconds;

namespace {

constexpr int wood_block = 115; ///< General MIDI, from 0: it speaks at once.
constexpr int reverb = 91;
constexpr float threshold = 0.002F;

void sleep(milliseconds time) {
  std::this_thread::sleep_for(time);
}

class Rig {
public:
  explicit Rig(const char* name) : client_(jack_client_open(name, JackNoStartServer, nullptr)) {
    if (client_ == nullptr)
      std::exit((std::puts("no server"), 1));
    keys_ = jack_port_register(client_, "keys", JACK_DEFAULT_MIDI_TYPE, JackPortIsOutput, 0);
    ear_ = jack_port_register(client_, "ear", JACK_DEFAULT_AUDIO_TYPE, JackPortIsInput, 0);
    sound_ = jack_port_register(client_, "sound", JACK_DEFAULT_AUDIO_TYPE, JackPortIsOutput, 0);
    jack_set_process_callback(
        client_,
        [](jack_nframes_t frames, void* self) {
          static_cast<Rig*>(self)->process(frames);
          return 0;
        },
        this);
    jack_activate(client_);
  }
  ~Rig() { jack_client_close(client_); }
  Rig(const Rig&) = delete;
  Rig& operator=(const Rig&) = delete;

  /// Whether somebody takes our keys and lets us hear.
  bool connect(const char* pattern) {
    const char** ports =
        jack_get_ports(client_, pattern, JACK_DEFAULT_AUDIO_TYPE, JackPortIsOutput);
    if (ports != nullptr) // one of the two, so that an ear has no more to do here than a bare one
      jack_connect(client_, ports[0], jack_port_name(ear_));
    jack_free(ports);
    return jack_port_connected(ear_) > 0 && jack_port_connected(keys_) > 0;
  }

  /// The server is to run us after the other rig of this name.
  void follow(const std::string& name) {
    jack_connect(client_, (name + ":sound").c_str(), jack_port_name(ear_));
  }

  bool hears() const { return jack_port_connected(ear_) > 0; }

  /// How long the server lets a frame wait until the listener has it, in frames.
  jack_nframes_t playback_latency() const {
    jack_latency_range_t range{};
    if (auto* port = jack_port_by_name(client_, "system:playback_1"))
      jack_port_get_latency_range(port, JackPlaybackLatency, &range);
    return range.max;
  }

  void send(const ShortMessage& message) {
    const auto& b = message.bytes;
    while (to_send_.load() != 0)
      std::this_thread::yield();
    to_send_ = (std::uint32_t{message.size} << 24) | (std::uint32_t{b[0]} << 16) |
               (std::uint32_t{b[1]} << 8) | b[2];
  }

  /// Waits for 20 ms of silence.
  void wait_for_quiet() {
    for (int quiet = 0; quiet < 20; ++quiet) {
      loud_ = false;
      sleep(milliseconds(1));
      quiet = loud_ ? 0 : quiet;
    }
  }

  /// What a key pressed now takes to be heard, and from the port alone, in milliseconds; negative
  /// when nothing is heard.
  std::pair<double, double> press(int note) {
    onset_ = 0;
    listening_ = true;
    const auto pressed = jack_get_time();
    send(note_on(0, note, 120));
    for (int i = 0; i < 400 && onset_ == 0; ++i)
      sleep(milliseconds(1));
    listening_ = false;
    if (onset_ == 0)
      return {-1, -1};
    const auto frame = static_cast<jack_nframes_t>(onset_.load() - 1);
    const double rate = jack_get_sample_rate(client_);
    const auto more = static_cast<double>(playback_latency()) * 1000 / rate;
    return {static_cast<double>(heard_.load() - pressed) / 1000 + more,
            static_cast<double>(frame - sent_.load()) * 1000 / rate};
  }

private:
  void process(jack_nframes_t frames) {
    const auto began = jack_get_time(); // late rather than early, in xruns too
    const auto first = jack_last_frame_time(client_);
    const auto* sound = static_cast<const float*>(jack_port_get_buffer(ear_, frames));
    const auto* loud =
        std::find_if(sound, sound + frames, [](float x) { return std::abs(x) > threshold; });
    loud_ = loud_ || loud != sound + frames;
    const auto place = static_cast<std::uint64_t>(loud - sound);
    if (loud != sound + frames && listening_ && onset_ == 0)
      heard_ = began + place * 1'000'000 / jack_get_sample_rate(client_),
      onset_ = std::uint64_t{first} + place + 1;
    std::fill_n(static_cast<float*>(jack_port_get_buffer(sound_, frames)), frames, 0.0F);
    void* out = jack_port_get_buffer(keys_, frames);
    jack_midi_clear_buffer(out);
    const auto packed = to_send_.exchange(0);
    if (packed == 0)
      return;
    const jack_midi_data_t bytes[]{static_cast<jack_midi_data_t>(packed >> 16),
                                   static_cast<jack_midi_data_t>(packed >> 8),
                                   static_cast<jack_midi_data_t>(packed)};
    sent_ = first;
    jack_midi_event_write(out, 0, bytes, packed >> 24);
  }

  jack_client_t* client_;
  jack_port_t* keys_ = nullptr;
  jack_port_t* ear_ = nullptr;
  jack_port_t* sound_ = nullptr;          ///< Silent.
  std::atomic<std::uint32_t> to_send_{0}; ///< Size and bytes of a message; 0: none.
  std::atomic<bool> listening_{false};
  std::atomic<bool> loud_{false};
  std::atomic<std::uint64_t> onset_{0}; ///< The frame plus one; 0: not yet.
  std::atomic<jack_time_t> heard_{0};   ///< The frame's time in its period.
  std::atomic<jack_nframes_t> sent_{0}; ///< The period in which the last message went out.
};

std::string summary(const char* name, std::vector<double> all) {
  if (all.empty())
    return std::string("\"") + name + "\": null";
  std::sort(all.begin(), all.end());
  const auto part = [&](double share) {
    return all[static_cast<std::size_t>(share * static_cast<double>(all.size() - 1))];
  };
  char text[160];
  std::snprintf(text, sizeof text,
                "\"%s\": {\"median_ms\": %.2f, \"p99_ms\": %.2f, \"worst_ms\": %.2f}", name,
                part(0.5), part(0.99), all.back());
  return text;
}

int press_keys(Rig& rig, std::chrono::duration<double> length) {
  for (int i = 0; !rig.connect("Landfall.*") && i < 1000; ++i)
    sleep(milliseconds(10));
  sleep(milliseconds(1500)); // the sound font loads, and the audio clock settles
  for (const auto& message : {program(0, wood_block), control(0, reverb, 0)})
    rig.send(message);
  std::mt19937 random{std::random_device{}()};
  std::uniform_int_distribution<int> pause_us(120'000, 320'000);
  std::vector<double> whole, inside;
  int lost = 0;
  const auto end = std::chrono::steady_clock::now() + length;
  for (int i = 0; std::chrono::steady_clock::now() < end; ++i) {
    const int note = 60 + i % 12;
    if (!rig.hears())
      rig.connect("Landfall.*"); // the synth was opened anew
    rig.wait_for_quiet();
    const auto [key_to_sound, port_to_sound] = rig.press(note);
    if (key_to_sound < 0)
      ++lost;
    else
      whole.push_back(key_to_sound), inside.push_back(port_to_sound);
    sleep(milliseconds(30));
    rig.send(note_off(0, note));
    rig.send(control(0, controller::all_sound_off, 0));
    std::this_thread::sleep_for(std::chrono::microseconds(pause_us(random)));
  }
  std::printf("{\"notes\": %zu, \"not_heard\": %d, %s, %s, \"playback_frames\": %u}\n",
              whole.size(), lost, summary("key_to_sound", whole).c_str(),
              summary("port_to_sound", inside).c_str(), rig.playback_latency());
  return whole.empty() ? 1 : 0;
}

} // namespace

int main(int count, char** arguments) {
  if (count != 4 && count != 5)
    return std::puts("usage: latency_rig keys|bare NAME SECONDS [BEFORE]"), 2;
  Rig rig(arguments[2]);
  if (count == 5)
    rig.follow(arguments[4]);
  std::puts("open");
  std::fflush(stdout);
  const std::chrono::duration<double> length{std::atof(arguments[3])};
  if (std::string(arguments[1]) == "keys")
    return press_keys(rig, length);
  sleep(milliseconds(1500));
  std::this_thread::sleep_for(length);
  return 0;
}
