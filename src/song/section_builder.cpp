#include "song/section_builder.hpp"

namespace landfall::song {

namespace {

const ChartBar* last_bar_of(const Passage& passage) {
  for (auto ending = passage.endings.rbegin(); ending != passage.endings.rend(); ++ending)
    if (!ending->bars.empty())
      return &ending->bars.back();
  return passage.bars.empty() ? nullptr : &passage.bars.back();
}

} // namespace

void SectionBuilder::add(ChartBar bar) {
  just_closed_ = false;
  if (place_ == Place::after_ending)
    end_passage();
  (place_ == Place::ending ? current_.endings.back().bars : current_.bars)
      .push_back(std::move(bar));
}

void SectionBuilder::add(BarLine line, Position at) {
  if (line.closes_repeat)
    close_repeat(at);
  else if (line.is_double && place_ == Place::ending)
    end_passage();
  if (line.opens_repeat)
    open_repeat(at);
}

void SectionBuilder::close_repeat(Position at) {
  if (place_ == Place::ending) {
    if (current_.endings.back().bars.empty())
      reporter_.error(at, "expected a bar in this ending before :|");
    place_ = Place::after_ending;
    mark_at_ = at;
  } else if (place_ == Place::after_ending || current_.bars.empty()) {
    reporter_.error(at, "nothing to repeat here: expected a bar before :|");
  } else {
    current_.times = 2;
    push_passage();
    just_closed_ = true;
  }
}

void SectionBuilder::open_repeat(Position at) {
  end_passage();
  opened_ = at;
}

void SectionBuilder::begin_ending(std::optional<Passes> passes, Position at) {
  just_closed_ = false;
  if (!passes) {
    reporter_.error(at, "expected an ending's number from 1 to 9: 1. or 1-2.");
    return;
  }
  if (place_ == Place::ending)
    reporter_.error(at, "expected :| at the end of the ending before this one");
  const int due = current_.endings.empty() ? 1 : current_.endings.back().last_pass + 1;
  if (passes->first != due)
    reporter_.error(at, "expected ending " + std::to_string(due) + ". here");
  current_.endings.push_back({passes->first, passes->last, {}});
  current_.times = passes->last;
  place_ = Place::ending;
  mark_at_ = at;
  opened_.reset();
}

void SectionBuilder::set_times(int times, Position at) {
  if (!just_closed_)
    reporter_.error(at, "expected x" + std::to_string(times) +
                            " only right after :| of a repeat without endings");
  else if (times < 2 || times > 64)
    reporter_.error(at, "expected a number of times from x2 to x64");
  else
    done_.back().times = times;
  just_closed_ = false;
}

void SectionBuilder::end_passage() {
  if (place_ == Place::after_ending)
    reporter_.error(mark_at_, "expected ending " +
                                  std::to_string(current_.endings.back().last_pass + 1) +
                                  ". after this :|, or | in its place");
  else if (place_ == Place::ending && current_.endings.back().bars.empty())
    reporter_.error(mark_at_, "expected a bar in this ending");
  else if (place_ == Place::ending && current_.endings.size() == 1)
    reporter_.error(mark_at_, "expected :| at the end of this ending, and another after it");
  if (opened_)
    reporter_.error(*opened_, "this repeat is not closed: expected :| before the section's end");
  push_passage();
}

void SectionBuilder::push_passage() {
  if (!current_.bars.empty() || !current_.endings.empty())
    done_.push_back(std::move(current_));
  current_ = {};
  place_ = Place::body;
  opened_.reset();
  just_closed_ = false;
}

const ChartBar* SectionBuilder::last_bar() const {
  const ChartBar* last = last_bar_of(current_);
  return last == nullptr && !done_.empty() ? last_bar_of(done_.back()) : last;
}

bool SectionBuilder::has_repeats() const {
  for (const Passage& passage : done_)
    if (passage.times > 1)
      return true;
  return false;
}

std::vector<Passage> SectionBuilder::finish() {
  end_passage();
  return std::move(done_);
}

} // namespace landfall::song
