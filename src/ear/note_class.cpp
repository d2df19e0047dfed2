#include "ear/note_class.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::ear {
namespace {

constexpr double curl_cents = 60.0; ///< How far a minor third may be curled up over a major one.
constexpr double early_ms = 40.0;

bool is_chord_tone(const Span* span, int midi) {
  return span != nullptr && span->chord && degree_in(*span->chord, midi % 12).has_value();
}

NoteClass plain_class(const Span* span, int midi) {
  if (span == nullptr)
    return NoteClass::outside;
  if (is_chord_tone(span, midi))
    return NoteClass::landing;
  return neck::has(span->set, midi) ? NoteClass::set : NoteClass::outside;
}

/// A minor third curled up by less than a half step over a chord with a major one.
bool is_curled_third(const Span* span, const HeardNote& note, const Pitch& pitch) {
  if (span == nullptr || !span->chord || note.bends.empty())
    return false;
  const int root = pitch_class(span->chord->root);
  const double above = std::fmod(pitch.midi + pitch.cents / 100.0 - root + 120.0, 12.0) * 100.0;
  return above >= 300.0 && above <= 300.0 + curl_cents &&
         degree_in(*span->chord, (root + 4) % 12).has_value();
}

/// The classes of notes that are struck one by one; of a chord, each by itself.
class Classifier {
public:
  Classifier(const Ground& ground, std::span<const HeardNote> notes, const Settings& settings)
      : ground_(ground), notes_(notes), settings_(settings) {
    for (std::size_t i = 0; i < notes.size(); ++i)
      pitches_.push_back(pitches_of(notes[i], i, ground.tempo.tempo_at(notes[i].on)).front());
    for (std::size_t i = 0; i < notes.size(); ++i)
      spans_.push_back(span_for(i));
  }

  NoteClass of(std::size_t index) const {
    const auto& pitch = pitches_[index];
    const auto found = plain_class(spans_[index], pitch.midi);
    if (found != NoteClass::outside)
      return found;
    if (is_curled_third(spans_[index], notes_[index], pitch))
      return NoteClass::set;
    return is_approach(index) ? NoteClass::approach : NoteClass::outside;
  }

private:
  /// The present chord's, or the coming one's for the last note before its change.
  const Span* span_for(std::size_t index) const {
    const auto at = notes_[index].on;
    const auto next = std::upper_bound(ground_.changes.begin(), ground_.changes.end(), at,
                                       [](Ticks t, const Change& c) { return t < c.at; });
    if (next != ground_.changes.end()) {
      const auto early = ticks_of_ms(early_ms, ground_.tempo.tempo_at(next->at));
      const bool last = index + 1 >= notes_.size() || notes_[index + 1].on >= next->at;
      if (last && at >= next->at - settings_.window - early)
        return &ground_.spans[next->span];
    }
    return ground_.span_at(at);
  }

  int midi(std::size_t index) const { return pitches_[index].midi; }
  bool lands(std::size_t index) const { return is_chord_tone(spans_[index], midi(index)); }

  bool within_beat(std::size_t from, std::size_t to) const {
    const auto* span = ground_.span_at(notes_[from].on);
    return to < notes_.size() &&
           notes_[to].on - notes_[from].on <= (span == nullptr ? quarter : span->beat);
  }

  bool is_approach(std::size_t i) const {
    return steps_in(i) || is_chain(i) || is_first_of_enclosure(i) || passes(i);
  }

  bool steps_in(std::size_t i) const {
    return within_beat(i, i + 1) && lands(i + 1) && std::abs(midi(i + 1) - midi(i)) <= 2;
  }

  bool is_chain(std::size_t i) const {
    for (auto j = i; within_beat(i, j + 1) && std::abs(midi(j + 1) - midi(j)) == 1; ++j)
      if (lands(j + 1))
        return true;
    return false;
  }

  bool is_first_of_enclosure(std::size_t i) const {
    if (!within_beat(i, i + 2) || !lands(i + 2))
      return false;
    const int a = midi(i) - midi(i + 2), b = midi(i + 1) - midi(i + 2);
    return a * b < 0 && std::abs(a) <= 2 && std::abs(b) <= 2;
  }

  bool passes(std::size_t i) const {
    if (i == 0 || !within_beat(i, i + 1) || spans_[i] == nullptr)
      return false;
    const int before = midi(i - 1), after = midi(i + 1);
    return std::abs(midi(i) - before) == 1 && after - midi(i) == midi(i) - before &&
           neck::has(spans_[i]->set, before) && neck::has(spans_[i]->set, after);
  }

  const Ground& ground_;
  std::span<const HeardNote> notes_;
  const Settings& settings_;
  std::vector<Pitch> pitches_;
  std::vector<const Span*> spans_;
};

} // namespace

std::vector<NoteClass> classes_of(const Ground& ground, std::span<const HeardNote> notes,
                                  const Settings& settings) {
  const Classifier classifier(ground, notes, settings);
  std::vector<NoteClass> classes;
  for (std::size_t i = 0; i < notes.size(); ++i)
    classes.push_back(classifier.of(i));
  return classes;
}

NoteClass class_at_once(const Ground& ground, Ticks at, int midi) {
  return plain_class(ground.span_at(at), midi);
}

} // namespace landfall::ear
