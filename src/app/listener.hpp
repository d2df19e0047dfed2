#pragma once

#include "ear/judge.hpp"
#include "ear/tracker.hpp"
#include "midi/input_event.hpp"
#include "midi/input_mode.hpp"
#include "practice/ground.hpp"

#include <memory>

namespace landfall::app {

/// The ear of one player through one performance: what their input says becomes notes, and notes
/// and timeline become verdicts. The same class listens live and to a take, and gives the same
/// verdicts. Window's thread, or any one thread.
class Listener {
public:
  struct Setup {
    std::shared_ptr<const neck::Instrument> instrument; ///< Never null.
    std::shared_ptr<const band::FeelBook> feels;        ///< May be null: all straight.
    const theory::FittingTable* fitting = nullptr;      ///< Null for the default; outlives it.
    midi::InputSetup input;
    std::optional<int> split; ///< MIDI notes below it are not judged.
  };

  explicit Listener(Setup setup);

  /// `at` is the performance tick of the event with the input's latency taken off.
  void hear(const midi::InputEvent& event, Ticks at);
  void hear(const ear::Event& event) { tracker_.take(event); }
  /// Everything that still sounds ends, as where the input goes away.
  void end_all(Ticks at) { tracker_.end_all(at); }

  /// Judges what has become final: every event up to `now` must have been heard. Returns how many
  /// changes are new.
  std::size_t advance(const practice::Timeline& timeline, Ticks now);

  /// Nothing more comes: judges what is left of the changes before `end`.
  std::size_t finish(const practice::Timeline& timeline, Ticks end);

  /// Forgets notes that no change after `now` depends on, for hours of playing: only judgement()
  /// asks for them.
  void forget_before(Ticks now);

  /// Judged so far, in the order of their ticks.
  const std::vector<ear::JudgedChange>& changes() const { return judge_.changes(); }
  const std::vector<ear::HeardNote>& notes() const { return tracker_.notes(); }
  const ear::Ground& ground() const { return ground_.ground(); }
  const Setup& setup() const { return setup_; }
  /// What is judged, and what is let pass.
  const ear::Settings& settings() const { return settings_; }

  /// Changes and notes of a performance that ended at `end`.
  ear::Judgement judgement(Ticks end) const;

private:
  Setup setup_;
  ear::Settings settings_;
  practice::GroundBuilder ground_;
  ear::Tracker tracker_;
  ear::LiveJudge judge_;
};

/// An input's event as the ear takes it; none for what it does not ask for.
std::optional<ear::Event> ear_event(const midi::InputEvent& event, Ticks at);

/// How long after a moment all that was played in it has arrived.
Nanoseconds hearing_delay(const midi::InputSetup& input);

/// What the ear needs to know of an input.
ear::Settings ear_settings(const midi::InputSetup& input, std::optional<int> split);

} // namespace landfall::app
