#pragma once

#include "midi/message.hpp"

#include <array>
#include <atomic>
#include <cstdint>
#include <jack/jack.h>
#include <jack/midiport.h>
#include <span>
#include <string>
#include <vector>

namespace landfall::midi::test {

struct Recorded {
  std::uint64_t frame; ///< Since the client started, by the clock.
  ShortMessage message;
};

/// An independent JACK client that records what comes to its MIDI inputs "in1" and "in2" and its
/// audio inputs, and plays from its MIDI output "out".
class JackClient {
public:
  static constexpr std::size_t inputs = 2;

  explicit JackClient(const std::string& name);
  ~JackClient();
  JackClient(const JackClient&) = delete;
  JackClient& operator=(const JackClient&) = delete;

  bool running() const { return client_ != nullptr; }
  void close();

  /// Everything that came to an input so far.
  std::vector<Recorded> recorded(std::size_t input) const;
  std::size_t count(std::size_t input) const { return counts_[input].load(); }

  /// Plays one message in the next period.
  void play(const ShortMessage& message);

  /// Plays messages of any size, so many in each period as there is room for, `each_period` at the
  /// most. Returns at once; not while it plays().
  void play_all(std::vector<std::vector<std::uint8_t>> messages, std::size_t each_period);
  bool plays() const { return left_.load() > 0; }

  /// The highest absolute sample since the last call.
  float take_peak() { return peak_.exchange(0); }

  /// Whether anybody listens to what is played.
  bool is_heard() const { return jack_port_connected(out_) > 0; }

  /// Connects every port whose name matches `pattern` (a regular expression) to one of ours.
  int connect_from(const char* pattern, const char* type, const std::string& to);
  /// Connects all ports of others whose names match one pattern to all that match the other; how
  /// many it was.
  int connect(const std::string& from, const std::string& to);
  void disconnect(const std::string& port);

  /// Whether the server shows a port whose name matches. Asks by this client: one that is opened
  /// for each question can cost another client its place in the server's periods (jackd2 1.9.21: a
  /// client that takes over the number of one just closed may wait for the other's signal).
  bool sees(const std::string& pattern) const { return !ports(pattern, 0).empty(); }
  /// How many ports a port is connected to; 0 where there is none of this name.
  int listeners(const std::string& port) const;
  const std::string& name() const { return name_; }

private:
  static constexpr std::size_t capacity = 100'000;

  std::vector<std::string> ports(const std::string& pattern, unsigned long flags,
                                 const char* type = nullptr) const;
  static int process(jack_nframes_t frames, void* self);
  void process(jack_nframes_t frames);
  void record(std::size_t input, jack_nframes_t frames);
  void play_more(void* out);

  std::string name_;
  jack_client_t* client_ = nullptr;
  std::array<jack_port_t*, inputs> in_{};
  std::array<jack_port_t*, 2> audio_{};
  jack_port_t* out_ = nullptr;
  std::array<std::vector<Recorded>, inputs> log_;
  std::array<std::atomic<std::size_t>, inputs> counts_{};
  std::atomic<std::uint32_t> to_play_{0}; ///< Size and bytes of a message; 0: none.
  std::vector<std::vector<std::uint8_t>> batch_;
  std::atomic<std::size_t> left_{0}; ///< Of the batch, to be played.
  std::size_t each_period_ = 1;
  std::atomic<float> peak_{0};
  jack_time_t opened_ = 0;  ///< Of JACK's clock, which runs from a program's first client on.
  std::uint64_t frame_ = 0; ///< At which the period began.
};

} // namespace landfall::midi::test
