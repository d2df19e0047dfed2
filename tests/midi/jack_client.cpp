#include "midi/jack_client.hpp"

#include <algorithm>
#include <cmath>
#include <thread>

namespace landfall::midi::test {
namespace {

/// A list of JACK's as one of ours.
std::vector<std::string> taken(const char** names) {
  std::vector<std::string> all;
  for (const char** name = names; name != nullptr && *name != nullptr; ++name)
    all.emplace_back(*name);
  jack_free(names);
  return all;
}

} // namespace

JackClient::JackClient(const std::string& name) : name_(name) {
  for (auto& log : log_)
    log.resize(capacity);
  for (int i = 0; i < 10 && client_ == nullptr; ++i) { // refused while others come and go
    if (i > 0)
      std::this_thread::sleep_for(std::chrono::milliseconds(100));
    client_ = jack_client_open(name.c_str(), JackNoStartServer, nullptr);
  }
  if (client_ == nullptr)
    return;
  opened_ = jack_get_time();
  for (std::size_t i = 0; i < inputs; ++i)
    in_[i] = jack_port_register(client_, ("in" + std::to_string(i + 1)).c_str(),
                                JACK_DEFAULT_MIDI_TYPE, JackPortIsInput, 0);
  out_ = jack_port_register(client_, "out", JACK_DEFAULT_MIDI_TYPE, JackPortIsOutput, 0);
  for (std::size_t i = 0; i < audio_.size(); ++i)
    audio_[i] = jack_port_register(client_, ("audio" + std::to_string(i + 1)).c_str(),
                                   JACK_DEFAULT_AUDIO_TYPE, JackPortIsInput, 0);
  jack_set_process_callback(client_, &JackClient::process, this);
  jack_activate(client_);
}

JackClient::~JackClient() {
  close();
}

void JackClient::close() {
  if (client_ != nullptr)
    jack_client_close(client_);
  client_ = nullptr;
}

std::vector<Recorded> JackClient::recorded(std::size_t input) const {
  const auto end = static_cast<std::ptrdiff_t>(counts_[input].load(std::memory_order_acquire));
  return {log_[input].begin(), log_[input].begin() + end};
}

void JackClient::play(const ShortMessage& message) {
  const auto& b = message.bytes;
  const std::uint32_t packed = (std::uint32_t{message.size} << 24) | (std::uint32_t{b[0]} << 16) |
                               (std::uint32_t{b[1]} << 8) | b[2];
  while (to_play_.load() != 0)
    std::this_thread::yield();
  to_play_ = packed;
}

void JackClient::play_all(std::vector<std::vector<std::uint8_t>> messages,
                          std::size_t each_period) {
  batch_ = std::move(messages);
  each_period_ = each_period;
  left_ = batch_.size();
}

void JackClient::play_more(void* out) {
  for (std::size_t i = 0, left = left_.load(); i < each_period_ && left > 0; ++i, left = --left_) {
    const auto& bytes = batch_[batch_.size() - left];
    if (jack_midi_event_write(out, 0, bytes.data(), bytes.size()) != 0)
      break; // the period is full
  }
}

std::vector<std::string> JackClient::ports(const std::string& pattern, unsigned long flags,
                                           const char* type) const {
  return taken(jack_get_ports(client_, pattern.c_str(), type, flags));
}

int JackClient::connect_from(const char* pattern, const char* type, const std::string& to) {
  int connected = 0;
  for (const auto& port : ports(pattern, JackPortIsOutput, type))
    connected += jack_connect(client_, port.c_str(), (name_ + ":" + to).c_str()) == 0 ? 1 : 0;
  return connected;
}

int JackClient::connect(const std::string& from, const std::string& to) {
  int connected = 0;
  for (const auto& source : ports(from, JackPortIsOutput))
    for (const auto& target : ports(to, JackPortIsInput))
      connected += jack_connect(client_, source.c_str(), target.c_str()) == 0 ? 1 : 0;
  return connected;
}

int JackClient::listeners(const std::string& port) const {
  jack_port_t* found = jack_port_by_name(client_, port.c_str());
  if (found == nullptr)
    return 0;
  return static_cast<int>(taken(jack_port_get_all_connections(client_, found)).size());
}

void JackClient::disconnect(const std::string& port) {
  jack_port_disconnect(client_, jack_port_by_name(client_, (name_ + ":" + port).c_str()));
}

int JackClient::process(jack_nframes_t frames, void* self) {
  static_cast<JackClient*>(self)->process(frames);
  return 0;
}

void JackClient::process(jack_nframes_t frames) {
  // by the clock: a busy machine's server leaves periods out
  frame_ = (jack_get_time() - opened_) * jack_get_sample_rate(client_) / 1'000'000;
  for (std::size_t i = 0; i < inputs; ++i)
    record(i, frames);
  float peak = peak_.load();
  for (auto* port : audio_) {
    const auto* samples = static_cast<const float*>(jack_port_get_buffer(port, frames));
    for (jack_nframes_t i = 0; i < frames; ++i)
      peak = std::max(peak, std::abs(samples[i]));
  }
  peak_ = peak;
  void* out = jack_port_get_buffer(out_, frames);
  jack_midi_clear_buffer(out);
  if (const auto packed = to_play_.exchange(0); packed != 0) {
    const std::array<jack_midi_data_t, 3> bytes{static_cast<jack_midi_data_t>(packed >> 16),
                                                static_cast<jack_midi_data_t>(packed >> 8),
                                                static_cast<jack_midi_data_t>(packed)};
    jack_midi_event_write(out, 0, bytes.data(), packed >> 24);
  }
  play_more(out);
}

void JackClient::record(std::size_t input, jack_nframes_t frames) {
  void* buffer = jack_port_get_buffer(in_[input], frames);
  auto count = counts_[input].load();
  for (std::uint32_t i = 0; i < jack_midi_get_event_count(buffer) && count < capacity; ++i) {
    jack_midi_event_t event{};
    if (jack_midi_event_get(&event, buffer, i) != 0 || event.size > 3)
      continue;
    Recorded& entry = log_[input][count++];
    entry.frame = frame_ + event.time;
    entry.message = {};
    entry.message.size = static_cast<std::uint8_t>(event.size);
    std::copy_n(event.buffer, event.size, entry.message.bytes.begin());
  }
  counts_[input].store(count, std::memory_order_release);
}

} // namespace landfall::midi::test
