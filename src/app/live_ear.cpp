#include "app/live_ear.hpp"

#include "ear/timing.hpp"
#include "ear/words.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

constexpr std::size_t timed_notes = 48, placed_notes = 4;
constexpr double bar_ms = 12.0; ///< Of the picture of the timing.
constexpr int bars_each_side = 4;
constexpr Ticks word_reach = quarter * 2; ///< So near a change is spoken of.

std::span<const ear::HeardNote> last_of(const std::vector<ear::HeardNote>& notes,
                                        std::size_t count) {
  return std::span(notes).last(std::min(count, notes.size()));
}

/// The player's word: a landing without a degree, or a miss.
ear::JudgedChange with_word(ear::JudgedChange change, bool landed) {
  change.verdict = landed ? ear::Verdict::landed : ear::Verdict::off;
  change.degree.reset();
  change.held.reset();
  change.approach.reset();
  change.own_word = true;
  return change;
}

render::Timing picture_of(const std::vector<double>& deviations, std::string words) {
  std::vector<double> bars(2 * bars_each_side + 1);
  for (const double ms : deviations) {
    const auto bar =
        std::clamp(std::lround(ms / bar_ms), -long{bars_each_side}, long{bars_each_side});
    bars[static_cast<std::size_t>(bar + bars_each_side)] += 1.0;
  }
  const double most = *std::max_element(bars.begin(), bars.end());
  for (double& bar : bars)
    bar /= std::max(most, 1.0);
  return {std::move(bars), std::move(words)};
}

} // namespace

void LiveEar::begin(Listener::Setup setup) {
  finish_chorus(now_);
  changes_.clear();
  chorus_from_ = 0;
  timed_.clear();
  timed_until_ = now_ = {};
  last_words_.clear();
  own_words_.clear();
  last_notes_.clear();
  listener_.emplace(std::move(setup));
}

void LiveEar::end(const practice::Timeline& timeline, Ticks at) {
  if (!listener_)
    return;
  add_last(listener_->finish(timeline, at));
  finish_chorus(at);
  last_notes_ = listener_->notes();
  listener_.reset();
}

void LiveEar::hear(const midi::InputEvent& event, Ticks at) {
  if (listener_)
    listener_->hear(event, at);
}

void LiveEar::end_all(Ticks at) {
  if (listener_)
    listener_->end_all(at);
}

bool LiveEar::say(bool landed, Ticks now) {
  if (!listener_)
    return false;
  const auto& known = listener_->ground().changes;
  const ear::Change* nearest = nullptr;
  for (const auto& change : known)
    if (!nearest || std::abs((change.at - now).count) <= std::abs((nearest->at - now).count))
      nearest = &change;
  if (nearest == nullptr || std::abs((nearest->at - now).count) > word_reach.count)
    return false;
  own_words_.emplace_back(nearest->at, landed);
  for (auto& change : changes_)
    if (change.at == nearest->at)
      change = with_word(change, landed);
  return true;
}

bool LiveEar::advance(const practice::Timeline& timeline, Ticks now) {
  if (!listener_)
    return false;
  now_ = now;
  const auto fresh = listener_->advance(timeline, now);
  add_last(fresh);
  if (now - timed_until_ > quarter * 8)
    time_notes(now - quarter * 4);
  listener_->forget_before(now);
  return fresh > 0;
}

/// Once calibrated: how the notes before `until` lay, which beats that are over say for good.
void LiveEar::time_notes(Ticks until) {
  if (!listener_ || !listener_->setup().input.calibrated() || until <= timed_until_)
    return;
  const ear::Line line(listener_->ground(), listener_->notes(), listener_->settings());
  const auto deviations = ear::deviations_ms(listener_->ground(), line);
  for (std::size_t strike = 0; strike < line.size(); ++strike)
    for (const auto index : line.notes_of(strike)) {
      const auto at = line.note(index).on;
      if (!deviations[strike] || at < timed_until_ || at >= until)
        continue;
      auto& timed = timed_.emplace_back();
      timed.at = at;
      timed.deviation_ms = deviations[strike];
    }
  timed_until_ = until;
}

void LiveEar::add_last(std::size_t count) {
  const auto& all = listener_->changes();
  for (auto i = all.size() - count; i < all.size(); ++i)
    add(all[i]);
}

void LiveEar::add(const ear::JudgedChange& change) {
  if (chorus_from_ < changes_.size() && changes_[chorus_from_].chorus != change.chorus)
    finish_chorus(change.at);
  changes_.push_back(change);
  for (const auto& [at, landed] : own_words_)
    if (at == change.at)
      changes_.back() = with_word(change, landed);
}

void LiveEar::finish_chorus(Ticks until) {
  time_notes(until);
  if (chorus_from_ >= changes_.size())
    return;
  Chorus chorus;
  chorus.notes = std::exchange(timed_, {});
  chorus.changes.assign(changes_.begin() + static_cast<std::ptrdiff_t>(chorus_from_),
                        changes_.end());
  chorus.number = chorus.changes.front().chorus;
  chorus.summary = ear::summary_of(chorus.changes, chorus.notes);
  chorus.from = chorus.changes.front().at;
  chorus.to = chorus.changes.back().at;
  last_words_ = ear::summary_words(chorus.summary);
  finished_.push_back(std::move(chorus));
  chorus_from_ = changes_.size();
}

const std::vector<ear::HeardNote>& LiveEar::notes() const {
  return listener_ ? listener_->notes() : last_notes_;
}

std::string LiveEar::summary() const {
  const auto present = std::span(changes_).subspan(chorus_from_);
  const auto words = ear::summary_words(ear::summary_of(present, {}));
  if (!words.empty())
    return words;
  return last_words_.empty() ? "" : "last chorus: " + last_words_;
}

std::optional<render::Timing> LiveEar::timing() const {
  if (!listener_ || !listener_->setup().input.calibrated())
    return std::nullopt;
  const auto notes = last_of(listener_->notes(), timed_notes);
  std::vector<double> deviations;
  std::vector<ear::JudgedNote> judged;
  const ear::Line line(listener_->ground(), notes, listener_->settings());
  for (const auto& ms : ear::deviations_ms(listener_->ground(), line)) {
    if (ms)
      deviations.push_back(*ms);
    judged.emplace_back().deviation_ms = ms;
  }
  auto words = ear::timing_words(ear::summary_of({}, judged), static_cast<int>(deviations.size()));
  if (words.empty())
    return std::nullopt;
  return picture_of(deviations, std::move(words));
}

bool LiveEar::left_position() const {
  if (!listener_)
    return false;
  const auto notes = last_of(listener_->notes(), placed_notes);
  return std::any_of(notes.begin(), notes.end(), [&](const ear::HeardNote& note) {
    return ear::in_position(listener_->ground(), note) == false;
  });
}

} // namespace landfall::app
