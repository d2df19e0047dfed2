#include "ear/note_class.hpp"

#include "ear/judge.hpp"
#include "ear/sounding.hpp"
#include "ear/window.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace landfall::ear {
namespace {

constexpr double curl_cents = 60.0; ///< How far a minor third may be curled up.
constexpr double least_curl_cents = 5.0;

bool is_landing(const Span* span, int midi) {
  return span != nullptr && neck::has(span->aimed, midi);
}

/// A chord tone or one of the set.
bool is_inside(const Span* span, int midi) {
  return span != nullptr && (neck::has(span->set, midi) ||
                             (span->chord && degree_in(*span->chord, midi % 12).has_value()));
}

NoteClass plain_class(const Span* span, int midi) {
  if (is_landing(span, midi))
    return NoteClass::landing;
  return is_inside(span, midi) ? NoteClass::set : NoteClass::outside;
}

/// A b3 curled up over a major or dominant chord.
bool is_curled_third(const Span* span, const Pitch& pitch) {
  if (span == nullptr || !span->chord)
    return false;
  const auto quality = theory::quality(*span->chord);
  if (quality != theory::Quality::major && quality != theory::Quality::dominant)
    return false;
  const int root = pitch_class(span->chord->root);
  const double above = ((pitch.midi - root) % 12 + 12) % 12 * 100.0 + pitch.cents;
  return above >= 300.0 + least_curl_cents && above <= 300.0 + curl_cents;
}

class Classifier {
public:
  Classifier(const Ground& ground, const Line& line, const Settings& settings)
      : ground_(ground), line_(line) {
    pitches_.reserve(line.order().size());
    for (const auto index : line.order())
      pitches_.push_back(main_pitch(line.note(index), ground.tempo.tempo_at(line.note(index).on)));
    spans_.reserve(line.size());
    for (std::size_t i = 0; i < line.size(); ++i)
      spans_.push_back(span_for(i, settings));
  }

  NoteClass of(std::size_t strike, std::size_t place) const {
    const auto* span = spans_[strike];
    const auto& pitch = pitches_[place];
    if (is_curled_third(span, pitch))
      return NoteClass::set;
    if (pitch.settled)
      if (const auto found = plain_class(span, pitch.midi); found != NoteClass::outside)
        return found;
    if (bends_home(strike, place))
      return NoteClass::landing;
    return is_approach(strike, pitch.midi) ? NoteClass::approach : NoteClass::outside;
  }

private:
  /// The present chord's, or the coming one's for the last strike before its change.
  const Span* span_for(std::size_t strike, const Settings& settings) const {
    const auto at = line_[strike].at;
    if (const auto coming = coming_change(ground_, at, settings)) {
      const auto& change = ground_.changes[*coming];
      if (strike + 1 == line_.size() || line_[strike + 1].at >= change.at)
        return &ground_.spans[change.span];
    }
    return ground_.span_at(at);
  }

  Ticks beat_at(std::size_t strike) const {
    const auto* span = spans_[strike];
    return span == nullptr ? quarter : span->beat;
  }

  bool within_beat(std::size_t from, std::size_t to) const {
    return to < line_.size() && line_[to].at - line_[from].at <= beat_at(from);
  }

  template <typename Fits> bool any(std::size_t strike, Fits fits) const {
    for (std::size_t i = 0; i < line_[strike].count; ++i)
      if (fits(pitches_[line_[strike].first + i].midi))
        return true;
    return false;
  }

  bool has(std::size_t strike, int midi) const {
    return any(strike, [&](int each) { return each == midi; });
  }

  bool bends_home(std::size_t strike, std::size_t place) const {
    const auto& note = line_.note(line_.order()[place]);
    const auto* span = spans_[strike];
    return !note.bends.empty() && span != nullptr &&
           bend_arrival(note, note.on,
                        std::min(note.on + span->beat, note.silent.value_or(note.on + span->beat)),
                        span->aimed, ground_.tempo.tempo_at(note.on))
               .has_value();
  }

  bool is_approach(std::size_t strike, int midi) const {
    return steps_home(strike, midi) || is_chain(strike, midi, 1) || is_chain(strike, midi, -1) ||
           opens_enclosure(strike, midi) || passes(strike, midi, 1) || passes(strike, midi, -1);
  }

  bool steps_home(std::size_t strike, int midi) const {
    return within_beat(strike, strike + 1) && any(strike + 1, [&](int next) {
             const int step = std::abs(next - midi);
             return step >= 1 && step <= 2 && is_landing(spans_[strike + 1], next);
           });
  }

  bool is_chain(std::size_t strike, int midi, int step) const {
    for (auto next = strike + 1; within_beat(strike, next); ++next) {
      midi += step;
      if (!has(next, midi))
        return false;
      if (is_landing(spans_[next], midi))
        return true;
    }
    return false;
  }

  bool opens_enclosure(std::size_t strike, int midi) const {
    return within_beat(strike, strike + 2) && any(strike + 2, [&](int aim) {
             const int here = midi - aim;
             return is_landing(spans_[strike + 2], aim) && std::abs(here) <= 2 &&
                    any(strike + 1, [&](int other) {
                      const int there = other - aim;
                      return here * there < 0 && std::abs(there) <= 2;
                    });
           });
  }

  /// By half steps from one note of the set to another.
  bool passes(std::size_t strike, int midi, int step) const {
    return strike > 0 && within_beat(strike - 1, strike) && within_beat(strike, strike + 1) &&
           has(strike - 1, midi - step) && is_inside(spans_[strike - 1], midi - step) &&
           has(strike + 1, midi + step) && is_inside(spans_[strike + 1], midi + step);
  }

  const Ground& ground_;
  const Line& line_;
  std::vector<Pitch> pitches_; ///< In the line's order.
  std::vector<const Span*> spans_;
};

} // namespace

std::vector<NoteClass> classes_of(const Ground& ground, const Line& line,
                                  const Settings& settings) {
  const Classifier classifier(ground, line, settings);
  std::vector<NoteClass> classes;
  classes.reserve(line.order().size());
  for (std::size_t strike = 0; strike < line.size(); ++strike)
    for (std::size_t i = 0; i < line[strike].count; ++i)
      classes.push_back(classifier.of(strike, line[strike].first + i));
  return classes;
}

Ticks note_final_at(const Ground& ground, Ticks onset, const Settings& settings) {
  const auto* span = ground.span_at(onset);
  const auto beat = span == nullptr ? quarter : span->beat;
  return onset + beat + settings.window + ticks_of_ms(300.0, ground.tempo.tempo_at(onset));
}

NoteClass class_at_once(const Ground& ground, Ticks at, int midi) {
  const auto now = plain_class(ground.span_at(at), midi);
  const auto coming = coming_change(ground, at, {});
  if (now == NoteClass::landing || !coming)
    return now;
  return std::min(now, plain_class(&ground.spans[ground.changes[*coming].span], midi));
}

} // namespace landfall::ear
