# cmake --install and the packages: the program, its manual page, completion, menu entry, icon, documents and examples.
include(GNUInstallDirs)

# The manual page and the completion are written by the program itself from the operations' descriptions. gzip -n leaves
# out name and time, so that two builds give the same file.
set(made ${CMAKE_BINARY_DIR}/made)
add_custom_command(
  OUTPUT ${made}/rollwright.1.gz ${made}/rollwright
  COMMAND ${CMAKE_COMMAND} -E make_directory ${made}
  COMMAND $<TARGET_FILE:rollwright> generate man > ${made}/rollwright.1
  COMMAND gzip -9nf ${made}/rollwright.1
  COMMAND $<TARGET_FILE:rollwright> generate completion > ${made}/rollwright
  DEPENDS rollwright VERBATIM)
add_custom_command(
  OUTPUT ${made}/changelog.gz
  COMMAND ${CMAKE_COMMAND} -E make_directory ${made}
  COMMAND ${CMAKE_COMMAND} -E copy ${CMAKE_SOURCE_DIR}/packaging/changelog ${made}/changelog
  COMMAND gzip -9nf ${made}/changelog
  DEPENDS ${CMAKE_SOURCE_DIR}/packaging/changelog VERBATIM)
add_custom_target(package_files ALL DEPENDS ${made}/rollwright.1.gz ${made}/rollwright ${made}/changelog.gz)

set(doc ${CMAKE_INSTALL_DATADIR}/doc/rollwright)
install(TARGETS rollwright RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES ${made}/rollwright.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${made}/rollwright DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
install(FILES ${made}/changelog.gz packaging/copyright README.md CHANGELOG.md DESTINATION ${doc})
install(FILES packaging/rollwright.desktop DESTINATION ${CMAKE_INSTALL_DATADIR}/applications)
install(FILES packaging/rollwright.metainfo.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/metainfo)
install(FILES web/src/base/mark.svg DESTINATION ${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps RENAME rollwright.svg)
install(DIRECTORY docs/ DESTINATION ${doc} FILES_MATCHING PATTERN "*.md" PATTERN "*.svg" PATTERN "*.png")
install(DIRECTORY examples DESTINATION ${doc} FILES_MATCHING PATTERN "*.json")
install(DIRECTORY schema DESTINATION ${CMAKE_INSTALL_DATADIR}/rollwright)

set(CPACK_PACKAGE_NAME rollwright)
set(CPACK_PACKAGE_VENDOR "The Rollwright maintainers")
set(CPACK_PACKAGE_CONTACT "The Rollwright maintainers <maintainers@rollwright.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "know how a road car will lean before the bar is bought")
set(CPACK_PACKAGE_DESCRIPTION
"Describe a road car from tape, caliper, scale and phone, with the doubt of
every number; work out what an anti-roll bar gives in every hole; forecast
lean, balance, grip, response and one-wheel bumps with honest intervals; fit
it neutral and safe; test it fairly on closed private ground; and get a
verdict in money and hours. Everything stays on this machine and works with
no internet.")
set(CPACK_STRIP_FILES ON)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_GENERATOR DEB)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SUGGESTS "xdg-utils")
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
install(FILES packaging/lintian-overrides DESTINATION ${CMAKE_INSTALL_DATADIR}/lintian/overrides RENAME rollwright)
include(CPack)
