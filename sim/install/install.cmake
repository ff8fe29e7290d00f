# `cmake --install`: programs, libraries with find_package(leewheel), manual pages, completion, scenarios; and the Debian package.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

# What the program writes of itself.
set(LEEWHEEL_SELF ${PROJECT_BINARY_DIR}/self)
add_custom_command(
  OUTPUT ${LEEWHEEL_SELF}/fish
  COMMAND ${CMAKE_COMMAND} -E make_directory ${LEEWHEEL_SELF}
  COMMAND leewheel man -o ${LEEWHEEL_SELF}/man
  COMMAND leewheel completion bash > ${LEEWHEEL_SELF}/bash
  COMMAND leewheel completion zsh > ${LEEWHEEL_SELF}/zsh
  COMMAND leewheel completion fish > ${LEEWHEEL_SELF}/fish
  DEPENDS leewheel
  VERBATIM)
add_custom_target(leewheel_self ALL DEPENDS ${LEEWHEEL_SELF}/fish)

install(TARGETS leewheel RUNTIME)
if(TARGET leewheel-view)
  install(TARGETS leewheel-view RUNTIME)
endif()
set(LEEWHEEL_LIBRARIES model riding ride plan after)
foreach(library IN LISTS LEEWHEEL_LIBRARIES)
  set_target_properties(leewheel_${library} PROPERTIES EXPORT_NAME ${library})
  install(TARGETS leewheel_${library} EXPORT leewheelTargets ARCHIVE LIBRARY)
endforeach()
install(DIRECTORY ${PROJECT_SOURCE_DIR}/include/leewheel TYPE INCLUDE)

set(LEEWHEEL_PACKAGE ${CMAKE_INSTALL_LIBDIR}/cmake/leewheel)
configure_package_config_file(${CMAKE_CURRENT_LIST_DIR}/leewheelConfig.cmake.in ${PROJECT_BINARY_DIR}/leewheelConfig.cmake
                              INSTALL_DESTINATION ${LEEWHEEL_PACKAGE})
write_basic_package_version_file(${PROJECT_BINARY_DIR}/leewheelConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(EXPORT leewheelTargets NAMESPACE leewheel:: DESTINATION ${LEEWHEEL_PACKAGE})
install(FILES ${PROJECT_BINARY_DIR}/leewheelConfig.cmake ${PROJECT_BINARY_DIR}/leewheelConfigVersion.cmake
        DESTINATION ${LEEWHEEL_PACKAGE})

install(DIRECTORY ${LEEWHEEL_SELF}/man/ DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${LEEWHEEL_SELF}/bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME leewheel)
install(FILES ${LEEWHEEL_SELF}/zsh DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions RENAME _leewheel)
install(FILES ${LEEWHEEL_SELF}/fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d RENAME leewheel.fish)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/scenarios DESTINATION ${CMAKE_INSTALL_DATADIR}/leewheel)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/docs/schemas DESTINATION ${CMAKE_INSTALL_DATADIR}/leewheel)
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_CONTACT "the leewheel contributors")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "what drafting saves on a climb, and how to order and pace a group")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
include(CPack)
