#pragma once
/// The riders of the sheet and their cards, as values for the templates.

#include "pages/sheet_page.hpp"
#include "pages/template.hpp"

namespace leewheel {

/// Number of the landmark where a stretch ends, as in the picture; the finish has none.
PageValue end_number(const Page& page, std::size_t stretch);

void add_riders(PageData& data, const Page& page);

/// The pocket cards by page of paper, the captain's first; needs what `add_riders` and the head have filled in.
void add_leaves(PageData& data, const Page& page);

}  // namespace leewheel
