"""The main window: menus, files, panels and their places, dialogs, and word of what goes wrong."""
