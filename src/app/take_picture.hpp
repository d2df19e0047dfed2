#pragma once

#include "app/frame_builder.hpp"
#include "app/take_file.hpp"
#include "trade/phrase_file.hpp"

namespace landfall::app {

/// A take as the window shows it again: what sounded, the trace and the verdicts, at each place.
class TakePicture {
public:
  /// Judges the take.
  TakePicture(Take take, const std::shared_ptr<const band::FeelBook>& feels);

  const Take& take() const { return take_; }
  const ear::Judgement& judgement() const { return judgement_; }
  const std::vector<ear::HeardNote>& notes() const { return notes_; }

  /// Puts what the player did up to `tick` into a frame, in place of what is played now. The frame
  /// is to be built before the next call.
  void show(FrameInput& input, Ticks tick);

private:
  Take take_;
  ear::Judgement judgement_;
  std::vector<ear::HeardNote> notes_;
  std::vector<PlayedNote> trace_; ///< Of each of notes_.
  std::vector<SoundingNote> sounding_;
  std::vector<PlayedNote> played_;
  std::vector<ear::JudgedChange> judged_;
};

/// What was played from one bar line to another, as a phrase named after its song and first bar,
/// or one line on why there is none: nothing was played, or no phrase file can hold it.
Result<trade::KeptPhrase, std::string> passage_of(const TakePicture& picture, Ticks from, Ticks to);

} // namespace landfall::app
