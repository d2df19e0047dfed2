#pragma once

#include "app/listener.hpp"
#include "render/frame.hpp"

#include <string>

namespace landfall::app {

/// Listens while the band plays, and keeps what the window says of it. Begins anew with each
/// performance. Window's thread; reads no clock.
class LiveEar {
public:
  /// A chorus that is over, or was left: what became of its changes.
  struct Chorus {
    int number = 0; ///< From 0.
    std::vector<ear::JudgedChange> changes;
    std::vector<ear::JudgedNote> notes; ///< Those that could be timed: only `at` and deviation.
    ear::Summary summary;
    Ticks from, to; ///< Its first change, and the last that was judged.
  };

  /// A new performance; what was unfinished is in take_choruses().
  void begin(Listener::Setup setup);
  /// The performance is over, at `at`: the last chorus is finished.
  void end(const practice::Timeline& timeline, Ticks at);
  bool listening() const { return listener_.has_value(); }

  /// `at`: the performance tick, latency taken off.
  void hear(const midi::InputEvent& event, Ticks at);
  void end_all(Ticks at);

  /// The player's own word on the change nearest to `now`, in place of what was heard. False where
  /// there is none within two beats.
  bool say(bool landed, Ticks now);

  /// Judges what is final by `now`: every event up to it must have been heard. True if there is
  /// something new.
  bool advance(const practice::Timeline& timeline, Ticks now);

  /// Choruses that were finished since the last call. The player has no more to say of their
  /// changes: one of the next chorus is nearer.
  std::vector<Chorus> take_choruses() { return std::exchange(finished_, {}); }

  /// In the order of their ticks.
  const std::vector<ear::JudgedChange>& changes() const { return changes_; }
  /// Those of the performance; when it is over, of its last bars.
  const std::vector<ear::HeardNote>& notes() const;
  /// Of the present chorus, or until it has one, of the last: `landed 14 of 17 · thirds 6`.
  std::string summary() const;
  /// How the latest notes lay; none before calibration or for few notes.
  std::optional<render::Timing> timing() const;
  /// Whether one of the last few notes lay outside hand and reach, where strings are known.
  bool left_position() const;

private:
  void add_last(std::size_t count);
  void add(const ear::JudgedChange& change);
  void time_notes(Ticks until);
  void finish_chorus(Ticks until);

  std::optional<Listener> listener_;
  std::vector<ear::JudgedChange> changes_;
  std::vector<std::pair<Ticks, bool>> own_words_; ///< By the change's tick.
  std::size_t chorus_from_ = 0;                   ///< First of changes_ in the present chorus.
  std::vector<ear::JudgedNote> timed_;            ///< Of the present chorus.
  Ticks timed_until_, now_;
  std::string last_words_;
  std::vector<ear::HeardNote> last_notes_;
  std::vector<Chorus> finished_;
};

} // namespace landfall::app
