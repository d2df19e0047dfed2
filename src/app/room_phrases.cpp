#include "app/phrase_files.hpp"
#include "app/room.hpp"

namespace landfall::app {
namespace {

constexpr const char* no_phrase = "made";

std::string tags_of(const trade::KeptPhrase& kept) {
  std::string text = ascii(kept.phrase.key);
  for (const auto& tag : kept.tags)
    text += " · " + tag;
  return text;
}

std::vector<std::string> chords_of(const trade::KeptPhrase& kept) {
  std::string line;
  for (const auto& chord : kept.phrase.chords)
    line += (line.empty() ? "" : "  ") + (chord.chord ? ascii(*chord.chord) : "N.C.");
  return {kept.about, "", line};
}

ChoiceList phrase_list(const std::vector<PhraseFile>& files, bool calling) {
  ChoiceList list;
  list.title = "Phrases";
  list.lines = {"Enter trades one: it comes as the call, moved to the chords and place at hand."};
  list.has_query = true;
  if (calling)
    list.items.push_back(
        {"Calls made for you", "", no_phrase, {"No kept phrase any more."}, false});
  for (const auto& file : files)
    list.items.push_back(
        {file.kept.name, tags_of(file.kept), file.name, chords_of(file.kept), false});
  return list;
}

/// What was played in answer, its pick-up before the first bar line.
trade::Phrase answer_of(const practice::TradeTurn& turn, const practice::TurnVerdict& verdict) {
  auto blank = turn.asked;
  blank.notes.clear();
  auto phrase =
      practice::phrase_of(verdict.answer, std::move(blank), turn.turn.opens(), turn.turn.end);
  for (auto& note : phrase.notes) {
    note.start += turn.turn.opens() - turn.turn.answer;
    note.chord = trade::chord_index(phrase, note.start);
    note.degree = trade::degree_over(phrase.chords[static_cast<std::size_t>(note.chord)].chord,
                                     phrase.key, note.midi);
  }
  return phrase;
}

} // namespace

bool Room::perform_phrases(Action action) {
  switch (action) {
  case Action::phrases:
    return show_phrases(), true;
  case Action::keep_phrase:
    return keep_phrase(), true;
  default:
    return false;
  }
}

void Room::show_phrases() {
  std::vector<std::string> problems;
  auto list = phrase_list(phrase_files(problems), trading_ && trading_->drilling());
  if (!problems.empty())
    say(problems.front());
  open(std::make_unique<ListView>(std::move(list), [this](const std::string& name) {
    call_phrase(name);
    close_page();
  }));
}

/// Every call from the next turn on is this phrase.
void Room::call_phrase(const std::string& name) {
  if (name == no_phrase) {
    if (trading_)
      trading_->drill(std::nullopt);
    return say("calls are made for you");
  }
  const auto kept = load_phrase(name);
  if (!kept)
    return say(kept.error());
  if (!trading_)
    toggle_trade();
  trade_choice_.teacher = false;
  trading_->choose(trade_choice_);
  trading_->drill(kept->phrase);
  say("calls: " + kept->name);
}

/// The call of the turn that is on; where that is kept already, the last answer.
void Room::keep_phrase() {
  const auto* turn = trading_ ? trading_->turn() : nullptr;
  if (turn == nullptr || turn->call.notes.empty())
    return say("no call was played yet");
  trade::KeptPhrase kept;
  const bool answer = kept_call_ == turn->call;
  kept.tags = {answer ? "answer" : "call"};
  kept.phrase = turn->call;
  if (answer) {
    if (trading_->past().empty() || trading_->past().back().turn.asked.chords.empty())
      return say("no answer was played yet");
    const auto& past = trading_->past().back();
    kept.phrase = answer_of(past.turn, past.verdict);
  }
  if (!can_be_kept(kept.phrase))
    return say(kept.phrase.notes.empty() ? "the last answer has no notes"
                                         : "its bars are not of one metre: not kept");
  kept.name = snapshot_.song->title + (answer ? ", answer" : ", call");
  if (!answer)
    kept_call_ = turn->call;
  const auto path = app::keep_phrase(std::move(kept));
  say(path ? "kept as " + path->stem().string() : path.error());
}

} // namespace landfall::app
