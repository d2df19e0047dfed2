#include "app/history_file.hpp"
#include "app/history_page.hpp"
#include "app/history_text.hpp"
#include "app/own_sets.hpp"
#include "app/room.hpp"
#include "app/setup.hpp"
#include "practice/history_chorus.hpp"

namespace landfall::app {
namespace {

constexpr const char* rest_words =
    "25 minutes without a pause: rest your hands and ears for a while";

std::string proposal_words(const practice::Proposal& proposal) {
  return render::with_signs(cell_words(proposal.cell));
}

} // namespace

/// Into the history, and to the lights.
void Room::remember(const LiveEar::Chorus& chorus) {
  practice::ChorusFacts facts;
  facts.timeline = heard_timeline_.get();
  facts.instrument = &instrument_;
  facts.notes = chorus.notes;
  facts.song = song_has_name_ ? lasting_name(settings_.song) : "";
  facts.when = instant_now();
  if (facts.timeline == nullptr)
    return;
  auto records = practice::records_of(facts, chorus.changes);
  std::span<const ear::JudgedChange> unlearned = chorus.changes;
  for (auto& record : records)
    history_.push(std::move(record), std::exchange(unlearned, {}));
}

bool Room::perform_history(Action action) {
  switch (action) {
  case Action::history:
    return toggle<HistoryView>(history_), true;
  case Action::what_next:
    return show_next(), true;
  case Action::what_next_start:
    return start_next(), true;
  case Action::routine:
    return toggle_routine(), true;
  case Action::fading:
    return next_fading(), true;
  default:
    return false;
  }
}

/// The proposals as they are now; the first of them comes next.
void Room::propose() {
  offers_ = offers_for(instrument_);
  proposals_ = todays_proposals(*history_.history(), offers_);
  next_proposal_ = 0;
}

void Room::show_next() {
  propose();
  ChoiceList page;
  page.title = "What next";
  page.lines = {"What is weak and what has rested comes first, mixed; Return starts one, 6 the "
                "first of them, then the others in turn."};
  for (std::size_t i = 0; i < proposals_.size(); ++i) {
    const auto& proposal = proposals_[i];
    const auto beats = std::to_string(proposed_beats(proposal, offers_));
    page.items.push_back({proposal_words(proposal),
                          proposed_title(proposal, offers_) + " · " + beats,
                          "next:" + std::to_string(i),
                          {proposal.why, ""},
                          false});
  }
  show_list(std::move(page));
}

void Room::start_next() {
  if (next_proposal_ >= proposals_.size())
    propose();
  if (!proposals_.empty())
    start_proposal(next_proposal_);
}

void Room::choose_next(const std::string& index) {
  close_list();
  start_proposal(static_cast<std::size_t>(std::stoul(index)));
}

/// Sets the song, the place and the notes, and plays.
void Room::start_proposal(std::size_t index) {
  if (index >= proposals_.size())
    return;
  const auto proposal = proposals_[index];
  next_proposal_ = index + 1;
  remember_song();
  practice::SongPlan plan;
  plan.song = proposal.song;
  plan.key = proposal.cell.key;
  plan.beats_per_minute = proposed_beats(proposal, offers_);
  plan.place = practice::place_request(proposal.cell.place);
  conductor_.stop();
  play_plan(plan);
  std::vector<practice::Command> commands{practice::SetTarget{}, practice::SetKeyMoves{},
                                          practice::SetTempoMoves{}};
  if (const auto set = own_sets().find(proposal.cell.set))
    commands.emplace_back(practice::SetNotes{*set, proposal.over});
  conductor_.apply(commands);
  conductor_.start();
  say(proposal_words(proposal) + ": " + proposal.why);
}

void Room::toggle_routine() {
  if (routine_ && !routine_->over()) {
    routine_.reset();
    return say("the routine is over");
  }
  auto parts = settings_.routine.empty() ? practice::usual_routine() : settings_.routine;
  routine_.emplace(std::move(parts), Clock::now().time_since_epoch());
}

/// What happens by itself: the parts of a routine, and the hint to rest.
void Room::follow_practice() {
  const auto now = Nanoseconds(Clock::now().time_since_epoch());
  if (rest_hint_.is_due(conductor_.rolling(), now))
    say_long(rest_words);
  const auto turn = routine_ ? routine_->next(now) : std::nullopt;
  if (!turn)
    return;
  if (!turn->part) {
    conductor_.apply(practice::End{});
    return say_long("the routine is over");
  }
  const auto length = length_words(turn->part->length);
  if (turn->part->kind == practice::RoutineKind::weak) {
    start_next();
    return say_long(length + " of what is weak: " + message_);
  }
  if (!conductor_.rolling())
    conductor_.start();
  say_long(length + " of jamming: play what you like");
}

void Room::next_fading() {
  auto& fading = settings_.look.fading;
  fading = static_cast<practice::FadingSpeed>((static_cast<int>(fading) + 1) % 3);
  say(fading == practice::FadingSpeed::off    ? "lights stay lit"
      : fading == practice::FadingSpeed::slow ? "lights fade slowly as you land on them"
                                              : "lights fade fast as you land on them");
}

/// Stays for a while longer than an answer.
void Room::say_long(std::string message) {
  say(std::move(message));
  message_until_ += std::chrono::seconds(8);
}

} // namespace landfall::app
