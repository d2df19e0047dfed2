#include "app/take_picture.hpp"

#include "app/hands.hpp"
#include "app/own_sets.hpp"
#include "app/phrase_files.hpp"
#include "ear/words.hpp"
#include "practice/trade_turn.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr Ticks trace_length = quarter * 32;

double cents_at(const ear::HeardNote& note, Ticks tick) {
  double cents = 0.0;
  for (const auto& bend : note.bends)
    if (bend.at <= tick)
      cents = bend.cents;
  return cents;
}

/// When a change's verdict was known, or nearly.
Ticks known_at(const ear::JudgedChange& change) {
  return change.arrived.value_or(change.at + quarter);
}

} // namespace

TakePicture::TakePicture(Take take, const std::shared_ptr<const band::FeelBook>& feels)
    : take_(std::move(take)) {
  Listener listener({take_.instrument, feels, &own_sets().fitting, take_.input, take_.split});
  read_player(take_.player, take_.input,
              [&](const midi::InputEvent& event, Ticks at) { listener.hear(event, at); });
  listener.finish(take_.head.timeline, take_.head.to);
  judgement_ = listener.judgement(take_.head.to);
  notes_ = listener.notes();
  for (const auto& note : notes_) {
    const auto judged =
        std::find_if(judgement_.notes.begin(), judgement_.notes.end(), [&](const auto& each) {
          return each.at == note.on && each.midi == note.midi;
        });
    const bool landed =
        judged != judgement_.notes.end() && judged->note_class == ear::NoteClass::landing;
    trace_.push_back({note.on, note.silent ? note.silent : note.off, note.midi, landed});
  }
}

void TakePicture::show(FrameInput& input, Ticks tick) {
  sounding_.clear();
  played_.clear();
  judged_.clear();
  for (std::size_t i = 0; i < notes_.size(); ++i) {
    const auto& note = notes_[i];
    auto trace = trace_[i];
    if (note.on > tick || trace.to.value_or(tick) < tick - trace_length)
      continue;
    const bool sounds = !trace.to || *trace.to > tick;
    if (sounds)
      trace.to.reset();
    played_.push_back(trace);
    if (!sounds)
      continue;
    SoundingNote sounding;
    sounding.midi = note.midi;
    sounding.bend = cents_at(note, tick) / 100.0;
    sounding.kind = trace.landed ? ear::NoteClass::landing : ear::NoteClass::set;
    sounding.string = note.string;
    if (note.string)
      sounding.fret = fret_of(*take_.instrument, *note.string, note.midi);
    sounding_.push_back(sounding);
  }
  for (const auto& change : judgement_.changes)
    if (known_at(change) <= tick)
      judged_.push_back(change);
  std::vector<ear::JudgedChange> chorus;
  for (const auto& change : judged_)
    if (change.chorus == judged_.back().chorus)
      chorus.push_back(change);
  input.instrument = take_.instrument.get();
  input.sounding = sounding_;
  input.played = played_;
  input.judged = judged_;
  input.timing.reset();
  input.summary = ear::summary_words(ear::summary_of(chorus, {}));
}

Result<trade::KeptPhrase, std::string> passage_of(const TakePicture& picture, Ticks from,
                                                  Ticks to) {
  const auto& performance = picture.take().head.timeline.performance;
  to = std::min(to, performance.end());
  const auto moment = performance.at(from);
  if (!moment || from >= to)
    return std::string("there is no bar of the song");
  trade::KeptPhrase kept;
  kept.phrase =
      practice::phrase_of(picture.notes(), practice::blank_over(performance, from, to), from, to);
  if (kept.phrase.notes.empty())
    return std::string("nothing was played there");
  if (!can_be_kept(kept.phrase))
    return std::string("expected at most 64 bars of one metre: not kept");
  const auto& form = *moment->stretch->form;
  kept.name = (form.name.empty() ? std::string("Take") : form.name) + ", bar " +
              std::to_string(moment->bar->number);
  kept.tags = {"take"};
  return kept;
}

} // namespace landfall::app
