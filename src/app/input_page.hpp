#pragma once

#include "app/input_desk.hpp"
#include "app/lists.hpp"

#include <optional>
#include <utility>

namespace landfall::app {

/// Rows for the page of ports: the clock, who else plays, and how each input is read. Values are
/// `send-clock`, `clock:NAME`, `teacher:NAME` and `input:NUMBER:CHANGE`.
void add_input_rows(ChoiceList& list, const std::vector<InputInfo>& open, const Settings& settings,
                    const std::vector<midi::PortInfo>& ports,
                    const std::optional<ModeProposal>& proposal);

/// The port and its setup after the change that a value names; none for any other value.
std::optional<std::pair<std::string, midi::InputSetup>>
changed_input(const std::string& value, const std::vector<InputInfo>& open,
              const InputSetups& setups, const std::optional<ModeProposal>& proposal);

/// `one channel per string, string 1 on channel 1`
std::string mode_words(const midi::InputSetup& setup);

/// What to tell the player of a proposal, in one line.
std::string proposal_words(const ModeProposal& proposal);

} // namespace landfall::app
