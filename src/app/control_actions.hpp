#pragma once

#include "app/actions.hpp"
#include "app/conductor.hpp"
#include "midi/control_binding.hpp"
#include "midi/controls.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

/// What controls can be bound to: the table's actions, and what takes a value.
namespace landfall::app {

/// Something between a least and a most.
struct ValueRow {
  std::string_view name; ///< As files of bindings call it: `tempo`.
  std::string_view help;
};
std::span<const ValueRow> value_table();

/// Everything that can be bound: values first, then actions in the table's order.
std::vector<midi::ControlAction> control_actions();

/// What it does, in a few words; empty for a name that is not known.
std::string_view control_help(std::string_view name);

std::optional<Action> action_named(std::string_view name);

/// The action that takes it back: `key-down` of `key-up`, the other way too; none if there is none.
std::optional<Action> opposite(Action action);

/// Sets or steps what takes a value. One line to show; none for a name that takes no value.
std::optional<std::string> apply_value(Conductor& conductor, const midi::Asked& asked);

} // namespace landfall::app
