# The dependency rule: the core (sim/model, include/leewheel) touches no file, screen, or format, and no graph type shows in
# a public header. Decisions know no prose, words know no file, pages no window, formats only the sentences they hold.
# cmake -DROOT=<checkout> -P layering.cmake
set(forbidden "<fstream>|<iostream>|<filesystem>|<cstdio>|yaml-cpp|hdf5|H5public|SFML|CLI11?|pugixml|GeographicLib|fmt/|nlohmann")
set(failures "")

# Files of `folder` must not include what matches `pattern`, but for what matches the third argument.
function(check_includes pattern folder)
  file(GLOB files ${ROOT}/${folder}/*.hpp ${ROOT}/${folder}/*.cpp)
  if(NOT files)
    message(FATAL_ERROR "no sources in ${ROOT}/${folder}")
  endif()
  foreach(file IN LISTS files)
    file(STRINGS ${file} includes REGEX "^[ \t]*#[ \t]*include")
    foreach(line IN LISTS includes)
      if(line MATCHES "${pattern}" AND NOT (ARGC GREATER 2 AND line MATCHES "${ARGV2}"))
        set(failures "${failures}\n  ${file}: ${line}" PARENT_SCOPE)
        set(failures "${failures}\n  ${file}: ${line}")
      endif()
    endforeach()
  endforeach()
endfunction()

check_includes("${forbidden}|\"(io|app|pages|plan|viz|evidence|words|riding|ride)/" sim/model)
check_includes("${forbidden}|<string>|boost/|\"(io|app|pages|plan|viz|evidence|words|ride)/" sim/riding)  # reasons are no prose
check_includes("${forbidden}|\"(io|app|plan|viz|evidence|words|pages)/" sim/ride)
check_includes("${forbidden}|\"(io|app|viz|evidence|words|pages|model|riding)/" sim/plan)  # and no room's own headers
check_includes("${forbidden}|\"(io|app|viz|evidence|words|pages)/" sim/after)
check_includes("${forbidden}|boost/" include/leewheel)
check_includes("<fstream>|<filesystem>|yaml-cpp|hdf5|SFML|CLI11?|pugixml|nlohmann|\"(app|evidence|io|model|pages|plan|ride|riding|viz)/" sim/words)
check_includes("<fstream>|<filesystem>|yaml-cpp|hdf5|SFML|CLI11?|pugixml|nlohmann|\"(app|evidence|io|model|ride|riding|viz)/" sim/pages)
check_includes("SFML|CLI11?|\"(app|pages|plan|viz|words|riding|ride)/" sim/evidence "pages/svg\\.hpp|words/.*|ride/watch\\.hpp")
check_includes("SFML|CLI11?|\"(app|evidence|plan|pages|riding|ride)/" viz/view)
check_includes("CLI11?|\"(app|evidence|model|pages|plan|riding|ride)/" viz/draw)
check_includes("CLI11?|\"(app|evidence|model|pages|plan|riding|ride)/" viz/app)
check_includes("SFML|\"(model|riding|viz)/" sim/app)
check_includes("SFML|CLI11?|\"(app|evidence|model|pages|plan|riding|viz|words)/" sim/io "words/(phrases|cautions|day_clock)\\.hpp")
if(failures)
  message(FATAL_ERROR "not to be included there:${failures}")
endif()
