#pragma once

#include "practice/trade_turn.hpp"

#include <nlohmann/json.hpp>

#include <optional>

namespace landfall::app {

/// A turn as a take keeps it; turn_from() gives it again.
nlohmann::ordered_json json_of(const practice::TradeTurn& turn);

/// Total: none for what is no turn, or not one that can be judged.
std::optional<practice::TradeTurn> turn_from(const nlohmann::ordered_json& json);

/// A turn with its verdict, for `review --json`: what was asked for and heard, note by note.
nlohmann::ordered_json verdict_json(const practice::TradeTurn& turn,
                                    const practice::TurnVerdict& verdict);

/// `echo`, `rhythm`, `free`.
const char* name_of(trade::AnswerKind kind);
std::optional<trade::AnswerKind> answer_kind_named(std::string_view name);

} // namespace landfall::app
