#include "app/phrase_midi.hpp"
#include "midi/message.hpp"
#include "theory/words.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace landfall::app {
namespace {

namespace smf = midi::smf;

constexpr std::size_t most_notes = 2000;
constexpr double least_bend = 1.0;         ///< Cents; a wheel nearer to its centre is at rest.
constexpr Ticks chord_grid = quarter / 12; ///< Markers set by hand lie beside the beat.
constexpr Ticks ringing = sixteenth; ///< So much of a last note may lie behind the last bar line.

/// Where the wheels of the channels stand, in cents, as a track goes on.
class Wheels {
public:
  void take(Ticks at, const midi::ShortMessage& message) {
    auto& wheel = wheels_[static_cast<std::size_t>(midi::channel_of(message))];
    if (midi::status_of(message) == midi::Status::bend)
      wheel.moves.emplace_back(at, wheel.cents(message.bytes[1] | message.bytes[2] << 7));
    else if (midi::status_of(message) == midi::Status::control)
      wheel.set(message.bytes[1], message.bytes[2]);
  }

  /// Just before `tick`.
  double before(int channel, Ticks tick) const {
    const auto& moves = wheels_[static_cast<std::size_t>(channel)].moves;
    const auto after = std::ranges::lower_bound(moves, tick, {}, &std::pair<Ticks, double>::first);
    return after == moves.begin() ? 0.0 : std::prev(after)->second;
  }

private:
  struct Wheel {
    std::vector<std::pair<Ticks, double>> moves;
    int parameter = -1, parameter_fine = -1; ///< The registered parameter that is set.
    int range = 2, range_cents = 0; ///< Registered parameter 0, as MIDI 1.0 has it at first.

    double cents(int value) const {
      return (value - 8192) / 8192.0 * (range * 100.0 + range_cents);
    }

    void set(int number, int value) {
      namespace c = midi::controller;
      if (number == c::rpn || number == c::rpn_fine)
        (number == c::rpn ? parameter : parameter_fine) = value;
      else if (number == c::nrpn || number == c::nrpn_fine)
        parameter = parameter_fine = -1;
      else if (parameter == 0 && parameter_fine == 0 && number == c::data_entry)
        range = value;
      else if (parameter == 0 && parameter_fine == 0 && number == c::data_entry_fine)
        range_cents = value;
    }
  };

  std::array<Wheel, midi::channel_count> wheels_;
};

/// The notes of one track, drums left out, in ticks of the file.
class TrackNotes {
public:
  explicit TrackNotes(const smf::Track& track) {
    for (const auto& event : track.events)
      if (const auto* message = std::get_if<midi::ShortMessage>(&event.content))
        take(event.at, *message);
    for (auto& note : notes)
      if (note.length == Ticks{})
        note.length = std::max(track.end - note.start, Ticks{1});
    for (std::size_t i = 0; i < notes.size(); ++i)
      if (const double cents = wheels_.before(channels_[i], notes[i].start + notes[i].length);
          std::abs(cents) >= least_bend)
        notes[i].bend_cents = std::round(cents);
  }

  std::vector<trade::PhraseNote> notes;

private:
  void take(Ticks at, const midi::ShortMessage& message) {
    const int channel = midi::channel_of(message);
    if (midi::status_of(message) == midi::Status::system || channel == midi::drum_channel ||
        notes.size() > most_notes)
      return;
    if (midi::is_note_on(message)) {
      trade::PhraseNote note;
      note.start = at;
      note.midi = {midi::note_of(message)};
      note.velocity = midi::velocity_of(message);
      notes.push_back(note);
      channels_.push_back(channel);
    } else if (midi::is_note_off(message)) {
      end(at, channel, midi::note_of(message));
    } else {
      wheels_.take(at, message);
    }
  }

  void end(Ticks at, int channel, int number) {
    for (std::size_t i = 0; i < notes.size(); ++i)
      if (notes[i].midi.number == number && channels_[i] == channel && notes[i].length == Ticks{}) {
        notes[i].length = std::max(at - notes[i].start, Ticks{1});
        return;
      }
  }

  std::vector<int> channels_;
  Wheels wheels_;
};

/// The first of a kind that the file holds, by track.
template <typename Kind> const Kind* first_in(const smf::File& file) {
  for (const auto& track : file.tracks)
    for (const auto& event : track.events)
      if (const auto* found = std::get_if<Kind>(&event.content))
        return found;
  return nullptr;
}

/// Markers as chords, at the file's ticks; none if any of them is something else.
std::vector<trade::PhraseChord> chords_in(const smf::File& file) {
  std::vector<trade::PhraseChord> chords;
  for (const auto& track : file.tracks)
    for (const auto& event : track.events) {
      const auto* text = std::get_if<smf::Text>(&event.content);
      if (text == nullptr || text->kind != smf::TextKind::marker)
        continue;
      const auto chord = theory::parse_chord(text->text);
      if (!chord && text->text != "N.C.")
        return {};
      chords.push_back({event.at, chord ? std::optional(*chord) : std::nullopt});
    }
  std::ranges::stable_sort(chords, {}, &trade::PhraseChord::at);
  return chords;
}

/// Of one metre that a phrase can have, or why not.
Result<song::Meter, std::string> metre_of(const smf::File& file) {
  const auto* first = first_in<smf::Metre>(file);
  if (first == nullptr)
    return song::Meter{};
  for (const auto& track : file.tracks)
    for (const auto& event : track.events)
      if (const auto* other = std::get_if<smf::Metre>(&event.content); other && *other != *first)
        return std::string("expected one metre: a phrase has no other");
  const bool known =
      first->numerator <= 16 && (first->denominator == 2 || first->denominator == 4 ||
                                 first->denominator == 8 || first->denominator == 16);
  if (!known)
    return "expected a metre of at most 16 halves, quarters, eighths or sixteenths, not " +
           std::to_string(first->numerator) + "/" + std::to_string(first->denominator);
  return song::Meter{first->numerator, first->denominator};
}

theory::Key key_of(const smf::File& file, const MidiPhraseOptions& options) {
  if (options.key)
    return *options.key;
  const auto* sign = first_in<smf::KeySignature>(file);
  if (sign == nullptr)
    return {};
  const bool minor = sign->minor;
  for (int up = 0; up < 12; ++up) {
    const auto key = theory::transposed(theory::Key{{}, minor}, up);
    if (floor_mod(Ticks{theory::signature(key) - sign->sharps}, Ticks{12}) == Ticks{})
      return theory::usual_key(key);
  }
  return {};
}

std::string name_of(const smf::File& file, const MidiPhraseOptions& options) {
  for (const auto& track : file.tracks) {
    auto name = track.name();
    std::ranges::replace_if(
        name, [](char c) { return static_cast<unsigned char>(c) < ' '; }, ' ');
    if (const auto plain = trimmed(name); !plain.empty())
      return std::string(plain);
  }
  return options.name;
}

/// Puts the notes in and makes room for them; the reason why there is none.
std::string lay(trade::Phrase& phrase, std::vector<trade::PhraseNote> notes, Ticks first,
                Ticks end) {
  const auto bar = song::bar_length(phrase.meter);
  auto last = phrase.length;
  for (auto& note : notes) {
    note.start -= first;
    last = std::max({last, note.start + Ticks{1}, note.start + note.length - ringing});
  }
  if (floor_mod(end - first, bar) == Ticks{})
    last = std::max(last, end - first);
  phrase.bars = std::max(1, static_cast<int>(floor_div(last - Ticks{1}, bar)) + 1);
  if (phrase.bars > trade::most_phrase_bars)
    return "expected at most 64 bars, not " + std::to_string(phrase.bars);
  phrase.length = bar * phrase.bars;
  for (auto& note : notes) {
    note.chord = trade::chord_index(phrase, note.start);
    note.degree = trade::degree_over(phrase.chords[static_cast<std::size_t>(note.chord)].chord,
                                     phrase.key, note.midi);
  }
  std::ranges::stable_sort(notes, [](const auto& a, const auto& b) {
    return std::pair(a.start, a.midi) < std::pair(b.start, b.midi);
  });
  phrase.notes = std::move(notes);
  return {};
}

/// Where the track's notes lie, and where it ends.
std::pair<std::vector<trade::PhraseNote>, Ticks> line_in(const smf::File& file) {
  for (const auto& track : file.tracks)
    if (TrackNotes line(track); !line.notes.empty())
      return {std::move(line.notes), track.end};
  return {};
}

} // namespace

Result<trade::KeptPhrase, std::string> phrase_from_midi(const smf::File& file,
                                                        const MidiPhraseOptions& options) {
  auto [notes, end] = line_in(file);
  if (notes.empty())
    return std::string("expected a track with notes that are no drums");
  if (notes.size() > most_notes)
    return std::string("expected a phrase of at most 2000 notes");
  const auto metre = metre_of(file);
  if (!metre)
    return metre.error();
  trade::KeptPhrase kept;
  kept.name = name_of(file, options);
  auto& phrase = kept.phrase;
  phrase.meter = *metre;
  phrase.key = key_of(file, options);
  const auto bar = song::bar_length(phrase.meter);
  auto chords = chords_in(file);
  const auto first = chords.empty() ? bar * floor_div(notes.front().start, bar) : chords.front().at;
  if (!options.over.empty()) {
    auto blank = trade::phrase_over(options.over, phrase.meter, phrase.key);
    if (!blank)
      return "--over: column " + std::to_string(blank.error().column) + ": " + blank.error().reason;
    phrase = *std::move(blank);
  } else if (chords.empty()) {
    phrase.chords = {{}};
  } else {
    for (const auto& chord : chords) {
      const auto at = chord_grid * floor_div(chord.at - first + chord_grid / 2, chord_grid);
      if (phrase.chords.empty() || phrase.chords.back().at != at)
        phrase.chords.push_back({at, chord.chord});
    }
  }
  if (auto reason = lay(phrase, std::move(notes), first, end); !reason.empty())
    return reason;
  while (phrase.chords.back().at >= phrase.length)
    phrase.chords.pop_back();
  if (!trade::read_phrase(trade::phrase_text(kept)))
    return std::string("expected a pick-up of at most two whole notes, and chords that a phrase "
                       "file can hold");
  return kept;
}

} // namespace landfall::app
