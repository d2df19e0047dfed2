#pragma once

#include "app/setting.hpp"
#include "neck/target.hpp"

#include <vector>

namespace landfall::app {

/// What lies under one hand over every chord of a form, with a target. The form must outlive it.
class SongView {
public:
  SongView(const song::Form& form, neck::Setting setting, neck::Target target);

  /// The view over a chord of the form, in its bar's key, aimed.
  neck::NeckView at(const song::Bar& bar, const song::ChordAt& chord,
                    const neck::ViewOptions& options = {false, false, 0}) const;

  /// Only its landing notes.
  std::vector<neck::NeckNote> landing(const song::Bar& bar, const song::ChordAt& chord) const;

private:
  std::size_t index_of(const song::Bar& bar, const song::ChordAt& chord) const;

  const song::Form& form_;
  neck::Setting setting_;
  neck::Target target_;
  std::vector<std::optional<neck::NeckNote>> line_; ///< Of every chord; empty without a guide line.
};

} // namespace landfall::app
