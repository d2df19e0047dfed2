#include "midi/sound_servers.hpp"
#include "midi/synth.hpp"

#include <cstdlib>
#include <filesystem>

namespace landfall::midi {
namespace {

namespace fs = std::filesystem;

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? std::string() : std::string(value);
}

bool is_there(const fs::path& path) {
  std::error_code error;
  return fs::exists(path, error);
}

bool has_runtime_socket(const char* name) {
  const auto folder = variable("XDG_RUNTIME_DIR");
  return !folder.empty() && is_there(fs::path(folder) / name);
}

/// An ALSA playback device, /dev/snd/pcmC0D0p.
bool has_alsa_playback() {
  std::error_code error;
  for (fs::directory_iterator entry("/dev/snd", error), end; !error && entry != end;
       entry.increment(error)) {
    const auto name = entry->path().filename().string();
    if (name.starts_with("pcm") && name.ends_with("p"))
      return true;
  }
  return false;
}

} // namespace

std::vector<std::string> audio_drivers() {
#if defined(__APPLE__)
  return {"coreaudio"};
#elif defined(_WIN32)
  return {"wasapi", "dsound"};
#else
  // Only what is there: some drivers start servers, or wait for them, when asked.
  std::vector<std::string> drivers;
  const bool jack = probe_jack() == ServerState::present;
  const bool jack_wanted = !variable("JACK_DEFAULT_SERVER").empty();
  if (jack && jack_wanted)
    drivers.emplace_back("jack");
  if (has_runtime_socket("pipewire-0"))
    drivers.emplace_back("pipewire");
  if (has_runtime_socket("pulse/native") || !variable("PULSE_SERVER").empty())
    drivers.emplace_back("pulseaudio");
  if (has_alsa_playback())
    drivers.emplace_back("alsa");
  if (jack && !jack_wanted)
    drivers.emplace_back("jack");
  if (is_there("/dev/dsp"))
    drivers.emplace_back("oss");
  return drivers;
#endif
}

} // namespace landfall::midi
