#pragma once
/// The debrief as one page: offline, without script, to be printed. It holds no place on earth; heart rates only when asked for.

#include <string>

#include "words/debrief_words.hpp"

namespace leewheel {

std::string debrief_html(const Debriefed& d);

// debrief_picture.cpp: pictures as SVG, each for a screen or paper, and for a phone.
enum class PictureWidth { screen, phone };
/// The road, and how far each rider was behind the first recorded one.
std::string gap_picture(const Debriefed& d, PictureWidth width);
/// One rider's power along the road, as planned and as ridden.
std::string power_picture(const Debriefed& d, const RiderDebrief& rider, PictureWidth width);
/// One rider's time against the plan along the road, by factor.
std::string time_picture(const Debriefed& d, const RiderDebrief& rider, PictureWidth width);
/// Bars over time: who rode together with whom.
std::string company_picture(const Debriefed& d, PictureWidth width);

}  // namespace leewheel
