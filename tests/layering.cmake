# The dependency rule: the core (sim/model, include/leewheel) touches no file, screen, or format, and no graph type shows in
# a public header. cmake -DROOT=<checkout> -P layering.cmake
set(forbidden "<fstream>|<iostream>|<filesystem>|<cstdio>|yaml-cpp|hdf5|H5public|SFML|CLI11?|pugixml|GeographicLib|fmt/|nlohmann")
set(failures "")

function(check_includes pattern folder)
  file(GLOB files ${ROOT}/${folder}/*.hpp ${ROOT}/${folder}/*.cpp)
  if(NOT files)
    message(FATAL_ERROR "no sources in ${ROOT}/${folder}")
  endif()
  foreach(file IN LISTS files)
    file(STRINGS ${file} includes REGEX "^[ \t]*#[ \t]*include")
    foreach(line IN LISTS includes)
      if(line MATCHES "${pattern}")
        set(failures "${failures}\n  ${file}: ${line}" PARENT_SCOPE)
        set(failures "${failures}\n  ${file}: ${line}")
      endif()
    endforeach()
  endforeach()
endfunction()

check_includes("${forbidden}|\"(io|app|plan|viz|evidence)/" sim/model)
check_includes("${forbidden}|\"(io|app|plan|viz|evidence|words|pages)/" sim/ride)
check_includes("${forbidden}|\"(io|app|viz|evidence|words|pages|model|riding)/" sim/plan)  # and no room's own headers
check_includes("${forbidden}|boost/" include/leewheel)
if(failures)
  message(FATAL_ERROR "the core must not include:${failures}")
endif()
