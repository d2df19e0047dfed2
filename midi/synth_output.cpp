#include "midi/audio_clock.hpp"
#include "midi/queue.hpp"
#include "midi/sender_links.hpp"
#include "midi/synth_engine.hpp"
#include "midi/underruns.hpp"

#include <algorithm>
#include <atomic>
#include <future>
#include <thread>

namespace landfall::midi {
namespace {

struct DeleteDriver {
  void operator()(fluid_audio_driver_t* driver) const { delete_fluid_audio_driver(driver); }
};
using FluidDriver = std::unique_ptr<fluid_audio_driver_t, DeleteDriver>;

/// How a device asks, in blocks: see Underruns and AudioClock.
struct Pace {
  double spare;
  double tolerance;
};

/// What the audio thread works on. Silent until play() is called.
class AudioSource {
public:
  /// FluidSynth's audio callback.
  static int render(void* self, int frames, int, float**, int outs, float** out) noexcept {
    if (outs >= 2 && frames > 0)
      static_cast<AudioSource*>(self)->render(out[0], out[1], static_cast<std::size_t>(frames));
    return FLUID_OK;
  }

  void play(std::unique_ptr<SynthEngine> engine, const SynthSettings& settings, Pace pace) {
    owned_ = std::move(engine);
    clock_ = AudioClock(settings.sample_rate, pace.tolerance);
    underruns_ = Underruns(settings.sample_rate, pace.spare);
    margin_ = static_cast<std::int64_t>(settings.sample_rate *
                                        std::chrono::duration<double>(settings.margin).count());
    engine_.store(owned_.get(), std::memory_order_release);
  }

  /// Sender's thread.
  bool push(const TimedMessage& message) noexcept { return messages_.push(message); }

  std::shared_ptr<const std::atomic<std::uint64_t>> xruns() const { return underruns_.counter(); }

  TimePoint last_asked() const noexcept { return TimePoint{Nanoseconds{last_asked_}}; }

private:
  void render(float* left, float* right, std::size_t frames) noexcept {
    const auto now = Clock::now();
    last_asked_ = now.time_since_epoch().count();
    SynthEngine* engine = engine_.load(std::memory_order_acquire);
    if (engine == nullptr) {
      std::fill_n(left, frames, 0.0F);
      std::fill_n(right, frames, 0.0F);
      return;
    }
    clock_.block(now, frame_, frames);
    underruns_.block(now, frames);
    frame_ += static_cast<std::int64_t>(frames);
    latency_ = std::max(latency_, static_cast<std::int64_t>(frames) + margin_);
    engine->render(left, right, frames,
                   [this, engine](std::int64_t frame) { apply_due(*engine, frame); });
  }

  void apply_due(SynthEngine& engine, std::int64_t slice) noexcept {
    constexpr std::int64_t half = SynthEngine::slice_frames / 2;
    TimedMessage message;
    while (messages_.peek(message) && clock_.frame_at(message.time) + latency_ < slice + half) {
      messages_.pop(message);
      engine.apply(message.message);
    }
  }

  Queue<TimedMessage> messages_{4096};
  std::unique_ptr<SynthEngine> owned_;
  std::atomic<SynthEngine*> engine_{nullptr};
  AudioClock clock_{48'000};
  Underruns underruns_{48'000, 1};
  std::int64_t margin_ = 0;
  std::int64_t latency_ = 0; ///< Frames from a message's deadline to its sound.
  std::int64_t frame_ = 0;
  std::atomic<std::int64_t> last_asked_{Clock::now().time_since_epoch().count()};
};

/// An open audio device; members end in reverse order, the device first.
struct Audio {
  FluidSettings settings;
  AudioSource source;
  FluidDriver driver;
};

class SynthOutput final : public Output {
public:
  explicit SynthOutput(std::shared_ptr<Audio> audio) : audio_(std::move(audio)) {}

  void send(std::span<const std::uint8_t> bytes, TimePoint deadline) noexcept override {
    TimedMessage timed{deadline, {}};
    timed.message.size = static_cast<std::uint8_t>(std::min(bytes.size(), std::size_t{3}));
    std::copy_n(bytes.begin(), timed.message.size, timed.message.bytes.begin());
    if (bytes.size() > 3 || !audio_->source.push(timed))
      failures_.fetch_add(1, std::memory_order_relaxed);
  }

  std::uint64_t failures() const noexcept override { return failures_; }

private:
  std::shared_ptr<Audio> audio_;
  std::atomic<std::uint64_t> failures_{0};
};

enum class Opening { opened, refused, hung };

/// Opens the device in a thread of its own, which keeps its share if it takes too long.
Opening open_device(const std::shared_ptr<Audio>& audio, const std::string& driver,
                    std::chrono::milliseconds limit) {
  fluid_settings_setstr(audio->settings.get(), "audio.driver", driver.c_str());
  auto done = std::make_shared<std::promise<bool>>();
  auto opened = done->get_future();
  std::thread([audio, done] {
    FluidDriver device(
        new_fluid_audio_driver2(audio->settings.get(), AudioSource::render, &audio->source));
    audio->driver = std::move(device);
    done->set_value(audio->driver != nullptr);
  }).detach();
  if (opened.wait_for(limit) != std::future_status::ready)
    return Opening::hung;
  return opened.get() ? Opening::opened : Opening::refused;
}

/// JACK asks anew in each period and waits for nobody: to come a whole period late is to miss one.
/// Others ask for several blocks at once, and then for a while for none.
Pace pace_of(const std::string& driver, const SynthSettings& settings) {
  if (driver == "jack")
    return {0.75, 0.9};
  return {settings.periods - 1.0, AudioClock::most_tolerance};
}

SynthStart silent(std::string status) {
  return {std::make_unique<SilentOutput>(), false, std::move(status),
          [](TimePoint) { return Nanoseconds{0}; }};
}

SynthStart start_on(std::shared_ptr<Audio> audio, SynthSettings settings,
                    const std::string& driver) {
  fluid_settings_getnum(audio->settings.get(), "synth.sample-rate", &settings.sample_rate);
  std::string error;
  auto engine = SynthEngine::make(make_settings(settings), settings, error);
  if (!engine)
    return silent(error + ": silent");
  audio->source.play(std::move(engine), settings, pace_of(driver, settings));
  auto idle_for = [&source = audio->source](TimePoint now) { return now - source.last_asked(); };
  auto xruns = [count = audio->source.xruns()] { return count->load(); };
  return {std::make_unique<SynthOutput>(std::move(audio)),
          true,
          "built-in synth on " + driver,
          std::move(idle_for),
          driver,
          std::move(xruns)};
}

} // namespace

bool has_synth() {
  return true;
}

SynthStart start_synth(const SynthSettings& settings, std::chrono::milliseconds limit) {
  try {
    std::string status = "no audio device: silent";
    const auto drivers = settings.driver.empty() ? audio_drivers() : std::vector{settings.driver};
    for (const auto& driver : drivers) {
      auto audio = std::make_shared<Audio>();
      audio->settings = make_settings(settings);
      switch (open_device(audio, driver, limit)) {
      case Opening::opened:
        return start_on(std::move(audio), settings, driver);
      case Opening::hung:
        status = "the audio driver " + driver + " does not answer: silent";
        break;
      case Opening::refused:
        break;
      }
    }
    return silent(status);
  } catch (const std::exception& error) {
    return silent(std::string("no audio (") + error.what() + "): silent");
  }
}

} // namespace landfall::midi
