#include "app/take_file.hpp"

#include "app/input_setups.hpp"
#include "app/own_sets.hpp"
#include "app/trade_json.hpp"
#include "midi/input_reader.hpp"
#include "midi/message.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace landfall::app {
namespace {

using Json = nlohmann::ordered_json;
constexpr std::string_view ear_opening = "landfall ear 1\n", head_opening = "landfall take",
                           trade_opening = "landfall trade 1\n";

Json json_of(const neck::Instrument& instrument) {
  Json strings = Json::array();
  for (const auto& string : instrument.strings)
    strings.push_back({string.open.number, string.first_fret});
  return {{"name", instrument.name},
          {"keyboard", instrument.kind == neck::Instrument::Kind::keyboard},
          {"strings", strings},
          {"frets", instrument.frets},
          {"capo", instrument.capo},
          {"hand", instrument.hand},
          {"reach", instrument.reach},
          {"lowest", instrument.lowest.number},
          {"highest", instrument.highest.number}};
}

int bounded(const Json& json, const char* name, int low, int high, int standard) {
  const auto found = json.find(name);
  if (found == json.end() || !found->is_number_integer())
    return standard;
  return static_cast<int>(std::clamp<std::int64_t>(found->get<std::int64_t>(), low, high));
}

/// Total: what is missing or out of range is as on a guitar.
neck::Instrument instrument_from(const Json& json) {
  auto instrument = neck::standard_guitar();
  if (!json.is_object())
    return instrument;
  if (json.value("keyboard", false))
    instrument = neck::standard_keyboard();
  instrument.name = json.value("name", instrument.name);
  instrument.frets = bounded(json, "frets", 1, neck::max_frets, instrument.frets);
  instrument.capo = bounded(json, "capo", 0, instrument.frets - 1, 0);
  instrument.hand = bounded(json, "hand", 1, 48, instrument.hand);
  instrument.reach = bounded(json, "reach", 0, 12, instrument.reach);
  instrument.lowest.number = bounded(json, "lowest", 0, 120, instrument.lowest.number);
  instrument.highest.number =
      bounded(json, "highest", instrument.lowest.number + 4, 127, instrument.highest.number);
  const auto strings = json.find("strings");
  if (strings == json.end() || !strings->is_array() || strings->empty() ||
      strings->size() > neck::max_strings)
    return instrument;
  instrument.strings.clear();
  for (const auto& string : *strings)
    if (string.is_array() && string.size() == 2 && string[0].is_number_integer() &&
        string[1].is_number_integer())
      instrument.strings.push_back({theory::MidiNote{std::clamp(string[0].get<int>(), 0, 127)},
                                    std::clamp(string[1].get<int>(), 0, instrument.frets - 1)});
  if (instrument.strings.empty() && instrument.kind == neck::Instrument::Kind::fretted)
    instrument.strings = neck::standard_guitar().strings;
  return instrument;
}

std::string ear_text(const Take& take) {
  Json json{{"instrument", json_of(*take.instrument)}, {"input", app::json_of(take.input)}};
  json["split"] = take.split ? Json(*take.split) : Json(nullptr);
  return std::string(ear_opening) + json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

void read_ear(std::string_view text, Take& take) try {
  const auto json = Json::parse(text.substr(ear_opening.size()), nullptr, false);
  if (!json.is_object())
    return;
  take.instrument = std::make_shared<const neck::Instrument>(
      instrument_from(json.value("instrument", Json::object())));
  take.input = input_setup_from(json.value("input", Json::object()));
  if (const auto split = bounded(json, "split", 0, 127, -1); split >= 0)
    take.split = split;
} catch (const Json::exception&) { // a value of another kind: as usual
}

std::string trade_text(const Take& take) {
  Json turns = Json::array();
  for (const auto& turn : take.trade)
    turns.push_back(app::json_of(turn));
  return std::string(trade_opening) + turns.dump(-1, ' ', false, Json::error_handler_t::replace);
}

/// Turns follow each other; what is larger than any trade of ours is none.
void read_trade(std::string_view text, Take& take) {
  constexpr std::size_t largest = 4'000'000; ///< Bytes.
  if (text.size() > largest)
    return;
  const auto json = Json::parse(text.substr(trade_opening.size()), nullptr, false);
  if (json.is_array())
    for (const auto& one : json)
      if (auto turn = turn_from(one);
          turn && (take.trade.empty() || turn->turn.call >= take.trade.back().turn.end))
        take.trade.push_back(*std::move(turn));
}

std::string located(const TextError& error) {
  return "the take's own text, line " + std::to_string(error.line) + ": " + error.reason;
}

/// The track of that name; null if there is none.
const midi::smf::Track* track_named(const midi::smf::File& file, std::string_view name) {
  for (const auto& track : file.tracks)
    if (track.name() == name)
      return &track;
  return nullptr;
}

void read_texts(const midi::smf::Track& track, std::string& head, Take& take) {
  for (const auto& event : track.events)
    if (const auto* text = std::get_if<midi::smf::Text>(&event.content);
        text != nullptr && text->kind == midi::smf::TextKind::text) {
      if (text->text.starts_with(head_opening))
        head = text->text;
      else if (text->text.starts_with(ear_opening))
        read_ear(text->text, take);
      else if (text->text.starts_with(trade_opening))
        read_trade(text->text, take);
    }
}

} // namespace

std::vector<std::uint8_t> take_bytes(const Take& take, std::span<const practice::Plan> band,
                                     const band::FeelBook& feels) {
  Recorded recorded;
  recorded.timeline = &take.head.timeline;
  recorded.plans = band;
  recorded.feels = &feels;
  recorded.title = take.head.song->title;
  recorded.from = take.head.from;
  recorded.to = take.head.to;
  recorded.player = take.player;
  auto file = file_of(recorded);
  auto& head = file.tracks.front();
  head.add({}, midi::smf::Text{midi::smf::TextKind::text, as_text(take.head)});
  head.add({}, midi::smf::Text{midi::smf::TextKind::text, ear_text(take)});
  if (!take.trade.empty())
    head.add({}, midi::smf::Text{midi::smf::TextKind::text, trade_text(take)});
  head.sort();
  return midi::smf::write(file);
}

std::vector<PlayerMessage> player_of(const midi::smf::Track& track, std::optional<int> channel,
                                     Ticks from) {
  std::vector<PlayerMessage> player;
  for (const auto& event : track.events)
    if (const auto* message = std::get_if<midi::ShortMessage>(&event.content))
      if (message->size > 0 && message->bytes[0] < 0xF0 &&
          (!channel || midi::channel_of(*message) == *channel))
        player.push_back({event.at + from, *message});
  return player;
}

ReadTake read_take(const std::string& bytes) {
  ReadTake result;
  const auto* data = reinterpret_cast<const std::uint8_t*>(bytes.data());
  auto file = midi::smf::read(std::span(data, bytes.size()));
  if (!file) {
    result.error = file.error().reason;
    return result;
  }
  result.file = std::move(*file);
  Take take;
  take.instrument = std::make_shared<const neck::Instrument>(neck::standard_guitar());
  std::string text;
  if (!result.file.tracks.empty())
    read_texts(result.file.tracks.front(), text, take);
  if (text.empty()) {
    result.other = true;
    return result;
  }
  auto head = practice::read_take_head(text);
  if (!head) {
    result.error = located(head.error());
    return result;
  }
  take.head = std::move(*head);
  if (const auto* track = track_named(result.file, "player"))
    take.player = player_of(*track, std::nullopt, take.head.from);
  result.take = std::move(take);
  return result;
}

void read_player(std::span<const PlayerMessage> player, const midi::InputSetup& input,
                 const std::function<void(const midi::InputEvent&, Ticks)>& take) {
  midi::InputReader reader(input);
  for (const auto& [at, message] : player)
    for (const auto& event : reader.read({TimePoint{}, message, 0}))
      take(event, at);
}

Reviewed review_take(const Take& take, const std::shared_ptr<const band::FeelBook>& feels) {
  Listener listener({take.instrument, feels, &own_sets().fitting, take.input, take.split});
  read_player(take.player, take.input,
              [&](const midi::InputEvent& event, Ticks at) { listener.hear(event, at); });
  listener.finish(take.head.timeline, take.head.to);
  Reviewed reviewed{listener.judgement(take.head.to), {}};
  for (const auto& turn : take.trade)
    reviewed.trade.push_back(
        {turn, practice::final_verdict(turn, listener.notes(), listener.changes(),
                                       take.head.timeline.tempo_at(turn.turn.answer))});
  return reviewed;
}

ear::Judgement judge_take(const Take& take, const std::shared_ptr<const band::FeelBook>& feels) {
  return review_take(take, feels).judgement;
}

} // namespace landfall::app
