#include "app/room.hpp"
#include "render/layout.hpp"

#include <algorithm>

namespace landfall::app {

Page* Room::top_page() {
  const auto open = std::find_if(pages_.rbegin(), pages_.rend(),
                                 [](const auto& page) { return !page->closed(); });
  return open == pages_.rend() ? nullptr : open->get();
}

ChoiceList* Room::list() {
  auto* view = dynamic_cast<ListView*>(top_page());
  return view == nullptr ? nullptr : &view->list;
}

void Room::open(std::unique_ptr<Page> page) {
  pages_.push_back(std::move(page));
  changed_ = true;
}

/// In place of the list that is shown, if one is.
void Room::show_list(ChoiceList shown) {
  changed_ = true;
  if (auto* present = list())
    *present = std::move(shown);
  else
    open(
        std::make_unique<ListView>(std::move(shown), [this](const auto& value) { choose(value); }));
}

/// The list that is shown, after a change.
void Room::show_list_again(ChoiceList changed) {
  if (const auto* present = list())
    changed.stay_as(*present);
  show_list(std::move(changed));
}

void Room::close_page() {
  if (auto* page = top_page())
    page->let_go();
  changed_ = true;
}

void Room::close_list() {
  if (const auto* present = list(); present != nullptr && !present->beside)
    close_page();
}

void Room::close_closed_pages() {
  if (std::erase_if(pages_, [](const auto& page) { return page->closed(); }) > 0)
    changed_ = true;
}

void Room::show_help() {
  toggle<HelpView>([this] { return render::most_scrolled(frame(), window_->size()); });
}

} // namespace landfall::app
