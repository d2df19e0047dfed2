#include "trade/call_row.hpp"

#include "trade/call_answer.hpp"

#include <algorithm>
#include <array>
#include <cassert>

namespace landfall::trade {
namespace {

constexpr double missed_below = 0.6;
constexpr std::array wait{3, 8, 20}; ///< Calls until a missed one comes back: the first time, ...
constexpr std::size_t most_missed = 12;

} // namespace

CallRow::CallRow(std::uint64_t seed, std::vector<Density> densities)
    : seed_(seed), densities_(std::move(densities)) {
  assert(!densities_.empty());
}

Call CallRow::next(const CallPlace& place) {
  ++count_;
  Call call;
  if (auto due = take_due(place.bars)) {
    call.again = true;
    call.phrase =
        answer_for(due->phrase, blank_phrase(*place.form, place.bar, place.bars), place.setting);
    last_ = std::move(due);
  } else {
    call.phrase = make(place);
    last_ = Missed{call.phrase, 0, 0};
  }
  remember(call.phrase);
  return call;
}

void CallRow::answered(double share) {
  adaptation_.answered(share);
  if (!last_)
    return;
  auto call = *std::exchange(last_, std::nullopt);
  if (share >= missed_below || call.phrase.notes.empty())
    return;
  if (static_cast<std::size_t>(call.times) >= wait.size())
    return; // enough of it
  call.due = count_ + wait[static_cast<std::size_t>(call.times)];
  ++call.times;
  if (missed_.size() == most_missed)
    missed_.erase(missed_.begin());
  missed_.push_back(std::move(call));
}

std::optional<CallRow::Missed> CallRow::take_due(int bars) {
  const auto at = std::find_if(missed_.begin(), missed_.end(), [&](const Missed& missed) {
    return missed.due <= count_ && missed.phrase.bars == bars;
  });
  if (at == missed_.end())
    return std::nullopt;
  auto due = std::move(*at);
  missed_.erase(at);
  return due;
}

Phrase CallRow::make(const CallPlace& place) {
  const std::vector<std::uint64_t> recent(recent_.begin(), recent_.end());
  CallRequest request;
  request.form = place.form;
  request.bar = place.bar;
  request.bars = place.bars;
  request.setting = place.setting;
  request.groove = place.groove;
  request.tempo = place.tempo;
  request.density = between(densities_, adaptation_.amount());
  request.seed = drawn({seed_, static_cast<std::uint64_t>(count_)});
  request.recent = recent;
  return make_call(request);
}

void CallRow::remember(const Phrase& phrase) {
  recent_.push_back(fingerprint(phrase));
  if (recent_.size() > calls_without_repeat)
    recent_.pop_front();
}

} // namespace landfall::trade
