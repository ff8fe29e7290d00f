#pragma once
/// The ride as one HTML file to send: replay and what-ifs by script, and road, plan and results without one.

#include <string>

#include "leewheel/what_ifs.hpp"

namespace leewheel {

/// `data`: the rides for the script (io/what_if_json.hpp).
std::string ride_page_html(const Scenario& scenario, const WhatIfs& rides, const std::string& data);

}  // namespace leewheel
