# What is installed where, and the Debian package. scripts/package makes it, and the archive for a tablet without root.
include(GNUInstallDirs)
set(WM_INSTALL ${CMAKE_SOURCE_DIR}/assets/install)
set(WM_ID example.witnessmark.Witnessmark)

# The program writes its own manual page and completions. Where it cannot run (another processor, and no emulator), one
# that was built for this machine does: -DWM_HOST_PROGRAM=…
set(WM_HOST_PROGRAM "$<TARGET_FILE:witnessmark>" CACHE STRING "the program that writes manual page and completions")
find_program(GZIP gzip REQUIRED)
set(WM_MANUALS ${CMAKE_BINARY_DIR}/manuals)
file(MAKE_DIRECTORY ${WM_MANUALS})
set(parts "")
foreach(part page bash zsh fish)
  list(APPEND parts COMMAND ${WM_HOST_PROGRAM} manual ${part} > ${WM_MANUALS}/${part})
endforeach()
add_custom_command(OUTPUT ${WM_MANUALS}/page ${WM_MANUALS}/bash ${WM_MANUALS}/zsh ${WM_MANUALS}/fish ${WM_MANUALS}/page.gz
    ${WM_MANUALS}/changelog.gz
  ${parts}
  COMMAND ${GZIP} -9nc ${WM_MANUALS}/page > ${WM_MANUALS}/page.gz
  COMMAND ${GZIP} -9nc ${WM_INSTALL}/debian/changelog > ${WM_MANUALS}/changelog.gz
  DEPENDS witnessmark ${WM_INSTALL}/debian/changelog VERBATIM)
add_custom_target(manuals ALL DEPENDS ${WM_MANUALS}/page.gz)

install(TARGETS witnessmark RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
file(GLOB WM_CHECKLISTS CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/checklists/*.toml)
install(FILES ${WM_CHECKLISTS} DESTINATION ${CMAKE_INSTALL_DATADIR}/witnessmark/checklists)
install(DIRECTORY ${CMAKE_SOURCE_DIR}/checklists/pins DESTINATION ${CMAKE_INSTALL_DATADIR}/witnessmark/checklists)
install(FILES ${WM_COMPILED} DESTINATION ${CMAKE_INSTALL_DATADIR}/witnessmark/languages)
install(FILES ${CMAKE_SOURCE_DIR}/assets/retention.toml DESTINATION ${CMAKE_INSTALL_DATADIR}/witnessmark/assets)
install(DIRECTORY ${CMAKE_SOURCE_DIR}/assets/instruments DESTINATION ${CMAKE_INSTALL_DATADIR}/witnessmark/assets)
file(GLOB WM_SCHEMAS CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/assets/schemas/*.json)
install(FILES ${WM_SCHEMAS} DESTINATION ${CMAKE_INSTALL_DATADIR}/witnessmark/schemas)
install(FILES ${CMAKE_SOURCE_DIR}/assets/sql/views.sql DESTINATION ${CMAKE_INSTALL_DATADIR}/witnessmark/sql)
install(FILES ${WM_MANUALS}/page.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 RENAME witnessmark.1.gz)
install(FILES ${WM_MANUALS}/bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME witnessmark)
install(FILES ${WM_MANUALS}/zsh DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions RENAME _witnessmark)
install(FILES ${WM_MANUALS}/fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d RENAME witnessmark.fish)
install(FILES ${WM_INSTALL}/${WM_ID}.desktop ${WM_INSTALL}/${WM_ID}.bundle.desktop
  DESTINATION ${CMAKE_INSTALL_DATADIR}/applications)
install(FILES ${WM_INSTALL}/${WM_ID}.metainfo.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/metainfo)
install(FILES ${WM_INSTALL}/witnessmark-bundle.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/mime/packages)
install(FILES ${WM_INSTALL}/witnessmark.svg DESTINATION ${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps)
foreach(side 48 256)
  install(FILES ${WM_INSTALL}/witnessmark-${side}.png
    DESTINATION ${CMAKE_INSTALL_DATADIR}/icons/hicolor/${side}x${side}/apps RENAME witnessmark.png)
endforeach()
install(FILES ${WM_INSTALL}/debian/copyright DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES ${WM_MANUALS}/changelog.gz DESTINATION ${CMAKE_INSTALL_DOCDIR})

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME witnessmark)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
  OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_PACKAGE_CONTACT "The Witnessmark authors <authors@witnessmark.example>")
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION utils)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS "fonts-dejavu-core")
set(CPACK_DEBIAN_COMPRESSION_TYPE xz)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA ${WM_INSTALL}/debian/postrm)
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION
"commissioning record of solar preheaters
Leads an installer through the checks of a flat-plate collector and a
small roof tank that heat water for a house. Each reading is judged
against its tolerance and the doubt of the instrument, each failure stays
on record with its correction, and the customer gets a sealed report that
anyone can check.

It advises competent people. Local codes, the maker's instructions and
licensed people decide.")
if(CMAKE_CROSSCOMPILING AND CMAKE_SYSTEM_PROCESSOR STREQUAL "aarch64")
  set(CPACK_DEBIAN_PACKAGE_ARCHITECTURE arm64)
endif()
include(CPack)
