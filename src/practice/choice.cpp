#include "practice/choice.hpp"

namespace landfall::practice {
namespace {

struct Apply {
  Choice& choice;

  void operator()(const SetKey& command) const { choice.key = command.key; }
  void operator()(const SetPlace& command) const { choice.place = command.place; }
  void operator()(const SetNotes& command) const {
    choice.set = command.set;
    choice.over = command.over;
  }
  void operator()(const SetTarget& command) const { choice.target = command.target; }
  void operator()(const SetTempo& command) const {
    choice.tempo = command.tempo;
    choice.tempo_moves = {};
  }
  void operator()(const SetFeel& command) const { choice.feel = command.feel; }
  void operator()(const SetLoop& command) const { choice.loop = command.loop; }
  void operator()(const SetMuted& command) const {
    choice.muted[static_cast<std::size_t>(command.part)] = command.muted;
  }
  void operator()(const SetIntensity& command) const { choice.intensity = command.intensity; }
  void operator()(const SetKeyMoves& command) const { choice.key_moves = command.moves; }
  void operator()(const SetTempoMoves& command) const {
    choice.tempo_moves = command.moves;
    if (command.moves.choruses > 0)
      choice.tempo = command.moves.from;
  }
  void operator()(const MoveTempo& command) const { choice.tempo = command.tempo; }
  void operator()(const SetArrangement& command) const { choice.arrangement = command.arrangement; }
  void operator()(const SetCountIn& command) const { choice.count_in_bars = command.bars; }
  void operator()(const End&) const {}
};

template <typename... Kinds> bool is_one_of(const Command& command) {
  return (std::holds_alternative<Kinds>(command) || ...);
}

} // namespace

Choice with(Choice choice, const Command& command) {
  std::visit(Apply{choice}, command);
  return choice;
}

bool replans(const Command& command) {
  return is_one_of<SetKey, SetFeel, SetLoop, SetIntensity, SetKeyMoves, SetTempoMoves>(command);
}

bool rearranges(const Command& command) {
  return is_one_of<SetMuted, SetArrangement>(command);
}

Boundary boundary(const Command& command) {
  if (is_one_of<SetMuted, SetCountIn>(command))
    return Boundary::now;
  return is_one_of<SetTempo>(command) ? Boundary::beat : Boundary::bar;
}

} // namespace landfall::practice
