#include "midi/synth_engine.hpp"

#include "midi/message.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <vector>

namespace landfall::midi {
namespace {

namespace fs = std::filesystem;

bool is_sound_font(const std::string& path) {
  return !path.empty() && fluid_is_soundfont(path.c_str()) != 0;
}

/// The system's usual one first, then by name.
std::vector<std::string> sound_fonts_in(const char* folder) {
  std::vector<std::string> files;
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end;
       entry.increment(error)) {
    const auto kind = entry->path().extension();
    if (kind == ".sf2" || kind == ".sf3")
      files.push_back(entry->path().string());
  }
  std::sort(files.begin(), files.end());
  std::stable_partition(files.begin(), files.end(), [](const std::string& file) {
    return fs::path(file).stem().string().starts_with("default");
  });
  return files;
}

std::string default_sound_font() {
  const FluidSettings settings(new_fluid_settings());
  char* name = nullptr;
  if (fluid_settings_dupstr(settings.get(), "synth.default-soundfont", &name) != FLUID_OK ||
      name == nullptr)
    return {};
  std::string result(name);
  fluid_free(name);
  return result;
}

void be_quiet() {
  for (const int level : {FLUID_PANIC, FLUID_ERR, FLUID_WARN, FLUID_INFO, FLUID_DBG})
    fluid_set_log_function(level, nullptr, nullptr);
}

} // namespace

FluidSettings make_settings(const SynthSettings& ours) {
  be_quiet();
  FluidSettings settings(new_fluid_settings());
  auto* s = settings.get();
  fluid_settings_setnum(s, "synth.sample-rate", ours.sample_rate);
  fluid_settings_setnum(s, "synth.gain", ours.gain);
  fluid_settings_setint(s, "synth.lock-memory", 0);
  fluid_settings_setint(s, "synth.threadsafe-api", 0); // after loading, only one thread calls
  fluid_settings_setint(s, "synth.chorus.active", 0);
  fluid_settings_setint(s, "audio.period-size", ours.period_frames);
  fluid_settings_setint(s, "audio.periods", ours.periods);
  fluid_settings_setint(s, "audio.pulseaudio.adjust-latency", 0);
  fluid_settings_setstr(s, "audio.jack.id", "Landfall");
  fluid_settings_setint(s, "audio.jack.autoconnect", 1);
  return settings;
}

std::string find_sound_font(const SynthSettings& settings) {
  be_quiet();
  if (!settings.sound_font.empty())
    return is_sound_font(settings.sound_font) ? settings.sound_font : std::string();
  if (const auto usual = default_sound_font(); is_sound_font(usual))
    return usual;
  for (const auto* folder : {"/usr/share/sounds/sf2", "/usr/share/sounds/sf3",
                             "/usr/share/soundfonts", "/usr/local/share/soundfonts"})
    for (const auto& file : sound_fonts_in(folder))
      if (is_sound_font(file))
        return file;
  return {};
}

SynthEngine::SynthEngine(FluidSettings settings, FluidSynth synth)
    : settings_(std::move(settings)), synth_(std::move(synth)) {}

std::unique_ptr<SynthEngine> SynthEngine::make(FluidSettings settings, const SynthSettings& ours,
                                               std::string& error) {
  const auto font = find_sound_font(ours);
  if (font.empty()) {
    error =
        ours.sound_font.empty() ? "no sound font found" : "not a sound font: " + ours.sound_font;
    return nullptr;
  }
  FluidSynth synth(new_fluid_synth(settings.get()));
  if (!synth || fluid_synth_sfload(synth.get(), font.c_str(), 1) == FLUID_FAILED) {
    error = "can't load the sound font " + font;
    return nullptr;
  }
  return std::unique_ptr<SynthEngine>(new SynthEngine(std::move(settings), std::move(synth)));
}

void SynthEngine::apply(const ShortMessage& message) noexcept {
  if (!is_valid(message))
    return;
  auto* synth = synth_.get();
  const int channel = channel_of(message);
  const int first = message.bytes[1];
  const int second = message.bytes[2];
  switch (status_of(message)) {
  case Status::note_off:
    fluid_synth_noteoff(synth, channel, first);
    break;
  case Status::note_on: // velocity 0 is a note-off there too
    fluid_synth_noteon(synth, channel, first, second);
    break;
  case Status::poly_pressure:
    fluid_synth_key_pressure(synth, channel, first, second);
    break;
  case Status::control:
    fluid_synth_cc(synth, channel, first, second);
    break;
  case Status::program:
    fluid_synth_program_change(synth, channel, first);
    break;
  case Status::channel_pressure:
    fluid_synth_channel_pressure(synth, channel, first);
    break;
  case Status::bend:
    fluid_synth_pitch_bend(synth, channel, first | (second << 7));
    break;
  case Status::system:
    break;
  }
}

void SynthEngine::render_slice() noexcept {
  fluid_synth_write_float(synth_.get(), slice_frames, left_.data(), 0, 1, right_.data(), 0, 1);
  std::transform(left_.begin(), left_.end(), left_.begin(), soft_limit);
  std::transform(right_.begin(), right_.end(), right_.begin(), soft_limit);
  read_ = 0;
  next_frame_ += slice_frames;
}

float soft_limit(float x) noexcept {
  constexpr float knee = 0.8F;
  constexpr float room = 0.19F;
  const float size = std::abs(x);
  if (size <= knee)
    return x;
  return std::copysign(knee + room * std::tanh((size - knee) / room), x);
}

} // namespace landfall::midi
