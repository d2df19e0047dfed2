#include "app/trading.hpp"
#include "midi/message.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

void add_bend(std::vector<midi::PlannedMessage>& messages, const trade::PhraseNote& note,
              Ticks at) {
  if (!note.bend_cents)
    return;
  constexpr int steps = 8, centre = 8192;
  for (int step = 1; step <= steps; ++step) {
    const double cents = *note.bend_cents * step / steps;
    const int value = std::clamp(centre + static_cast<int>(std::lround(cents / 200.0 * centre)), 0,
                                 2 * centre - 1);
    messages.push_back(
        {at + note.length * step / (steps * 4), {}, midi::bend(call_channel, value)});
  }
  messages.push_back({at + note.length, {}, midi::bend(call_channel, centre)});
}

} // namespace

std::vector<midi::PlannedMessage> messages_of(const trade::Phrase& phrase, Ticks at) {
  std::vector<midi::PlannedMessage> messages;
  for (const auto& note : phrase.notes) {
    messages.push_back({at + note.start, note.length,
                        midi::note_on(call_channel, note.midi.number, note.velocity)});
    add_bend(messages, note, at + note.start);
  }
  std::ranges::stable_sort(messages, {}, &midi::PlannedMessage::at);
  return messages;
}

neck::Position next_place(const neck::Instrument& instrument, theory::Key key,
                          const neck::Position& from) {
  const auto places = neck::all_positions(instrument, key);
  const auto next =
      std::ranges::find_if(places, [&](const auto& place) { return place.low > from.low; });
  return next != places.end() ? *next : places.empty() ? from : places.front();
}

std::string kind_words(const TradeChoice& choice) {
  switch (choice.kind) {
  case trade::AnswerKind::echo:
    return choice.echo == EchoPlace::next_place ? "echo in the next place"
           : choice.echo == EchoPlace::next_key ? "echo a fourth up"
                                                : "echo";
  case trade::AnswerKind::rhythm:
    return "same rhythm";
  case trade::AnswerKind::free:
    break;
  }
  return "free";
}

std::string density_words(const Trading& trading) {
  return trading.drilling() ? "kept phrase"
                            : trade::between(trading.densities(), trading.amount()).name;
}

} // namespace landfall::app
