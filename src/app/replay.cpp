#include "app/replay.hpp"

#include "app/chunks.hpp"
#include "midi/message.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace landfall::app {
namespace {

using midi::PlannedMessage;
using midi::ShortMessage;

constexpr std::array players_channels{lead_channel, 5, 6, 7, 8, 10, 11, 12, 13, 14, 15};

Tempo slowed(Tempo tempo, double speed) {
  return {std::llround(static_cast<double>(tempo.micros_per_quarter) / speed)};
}

ShortMessage moved(ShortMessage message, int channel) {
  message.bytes[0] = static_cast<std::uint8_t>((message.bytes[0] & 0xF0) | channel);
  return message;
}

/// Gives each channel of the player's one that is free, in the order in which they come.
class PlayersChannels {
public:
  int of(int channel) {
    const auto next = players_channels[found_.size() % players_channels.size()];
    return found_.try_emplace(channel, next).first->second;
  }
  const std::map<int, int>& found() const { return found_; }

private:
  std::map<int, int> found_;
};

/// Pairs note-ons with their note-offs, and keeps everything else.
class Pairing {
public:
  explicit Pairing(std::vector<PlannedMessage>& into) : into_(into) {}

  void take(Ticks at, const ShortMessage& message) {
    const int key = midi::channel_of(message) * midi::note_count + midi::note_of(message);
    const bool on = midi::is_note_on(message);
    if (on || midi::is_note_off(message))
      end(key, at);
    if (on)
      open_[key] = into_.size();
    if (!midi::is_note_off(message))
      into_.push_back({at, on ? Ticks{1} : Ticks{}, message});
  }

  void end_all(Ticks at) {
    while (!open_.empty())
      end(open_.begin()->first, at);
  }

private:
  void end(int key, Ticks at) {
    if (const auto note = open_.extract(key)) {
      auto& begun = into_[note.mapped()];
      begun.length = std::max(at - begun.at, Ticks{1});
    }
  }

  std::vector<PlannedMessage>& into_;
  std::map<int, std::size_t> open_;
};

void add_track(std::vector<PlannedMessage>& all, const midi::smf::Track& track, Ticks from) {
  const bool player = track.name() == "player";
  PlayersChannels channels;
  std::vector<PlannedMessage> some;
  Pairing pairing(some);
  for (const auto& event : track.events)
    if (const auto* message = std::get_if<ShortMessage>(&event.content);
        message != nullptr && message->size > 0 && message->bytes[0] < 0xF0 &&
        !(player && midi::status_of(*message) == midi::Status::program))
      pairing.take(event.at + from,
                   player ? moved(*message, channels.of(midi::channel_of(*message))) : *message);
  pairing.end_all(track.end + from);
  for (const auto& [ignored, channel] : channels.found())
    all.push_back({from, {}, midi::program(channel, lead_program)});
  all.insert(all.end(), some.begin(), some.end());
}

/// What a channel message sets, so that a later one replaces it; none for notes and pressures, and
/// for what makes sense only in a row.
std::optional<int> setting_of(const ShortMessage& message) {
  const int channel = midi::channel_of(message);
  switch (midi::status_of(message)) {
  case midi::Status::program:
    return channel;
  case midi::Status::bend:
    return 16 + channel;
  case midi::Status::control:
    return message.bytes[1] >= midi::controller::all_sound_off
               ? std::nullopt
               : std::optional(32 + channel * midi::note_count + message.bytes[1]);
  default:
    return std::nullopt;
  }
}

} // namespace

std::int64_t Replay::pass_at(Ticks sent) const {
  return std::max<std::int64_t>(sent.count, 0) / length().count;
}

Ticks Replay::place_at(Ticks sent) const {
  return from + sent - length() * (loops ? pass_at(sent) : 0);
}

Tempo Replay::tempo_at(Ticks sent) const {
  return slowed(timeline->tempo_at(place_at(sent)), speed);
}

std::optional<std::pair<Ticks, Tempo>> Replay::tempo_after(Ticks sent) const {
  const auto place = place_at(sent);
  const auto next = timeline->tempo_after(place);
  if (next && next->first < to)
    return std::pair(sent + (next->first - place), slowed(next->second, speed));
  if (loops && timeline->tempo_at(from) != timeline->tempo_at(place))
    return std::pair(sent + (to - place), slowed(timeline->tempo_at(from), speed));
  return std::nullopt;
}

midi::Chunk Replay::pass(std::int64_t number) const {
  const auto start = length() * number;
  midi::Chunk chunk{start, start + length(), {}};
  std::map<int, ShortMessage> set;
  auto each = messages.begin();
  for (; each != messages.end() && each->at < from; ++each)
    if (const auto setting = setting_of(each->message))
      set[*setting] = each->message;
  for (const auto& [ignored, message] : set)
    chunk.messages.push_back({start, {}, message});
  for (; each != messages.end() && each->at < to; ++each)
    chunk.messages.push_back(
        {each->at - from + start,
         each->length > Ticks{} ? std::min(each->length, to - each->at) : Ticks{}, each->message});
  return chunk;
}

std::vector<midi::PlannedMessage> messages_of(const midi::smf::File& file, Ticks from) {
  std::vector<midi::PlannedMessage> all;
  for (const auto& track : file.tracks)
    add_track(all, track, from);
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.at < b.at; });
  return all;
}

} // namespace landfall::app
