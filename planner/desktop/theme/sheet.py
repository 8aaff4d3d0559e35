"""The style sheet: what Fusion draws plainly, drawn finer, with the colours of the theme."""

from pathlib import Path

from planner.report.style import Colours, contrast

__all__ = ["style_sheet"]

SHAPES = Path(__file__).parent / "shapes"


def style_sheet(colours: Colours) -> str:
    """Write the style sheet of a theme; text keeps the user's font and size."""
    names = {name: getattr(colours, name) for name in Colours.__slots__}
    tick = (
        "tick_light"
        if contrast(colours.on_accent, "#000000") > contrast(colours.on_accent, "#FFFFFF")
        else "tick_dark"
    )
    shapes = {"up": "up", "down": "down", "tick": tick}
    urls = {f"{key}_url": f'url("{(SHAPES / shape).as_posix()}.svg")' for key, shape in shapes.items()}
    return SHEET.format_map(names | urls)


SHEET = """
QToolTip {{ color: {ink}; background: {raised}; border: 1px solid {edge}; padding: 4px; }}

QGroupBox {{ border: none; border-top: 1px solid {rule}; margin-top: 1.5em; padding-top: 4px; }}
QGroupBox::title {{
    subcontrol-origin: margin; subcontrol-position: top left; color: {accent}; padding: 0 0 3px 0;
}}

QLineEdit, QAbstractSpinBox, QComboBox, QPlainTextEdit, QTextEdit {{
    background: {surface}; border: 1px solid {edge}; border-radius: 4px; padding: 3px 6px;
    selection-background-color: {accent}; selection-color: {on_accent};
}}
QLineEdit:focus, QAbstractSpinBox:focus, QComboBox:focus, QPlainTextEdit:focus, QTextEdit:focus {{
    border: 2px solid {accent}; padding: 2px 5px;
}}
QLineEdit:disabled, QAbstractSpinBox:disabled, QComboBox:disabled {{
    background: {window}; border-color: {rule}; color: {edge};
}}
QAbstractSpinBox {{ padding: 3px 22px 3px 4px; }}
QAbstractSpinBox:focus {{ padding: 2px 21px 2px 3px; }}
QAbstractSpinBox::up-button {{
    subcontrol-origin: border; subcontrol-position: top right; width: 20px; border: none; background: none;
}}
QAbstractSpinBox::down-button {{
    subcontrol-origin: border; subcontrol-position: bottom right; width: 20px; border: none; background: none;
}}
QAbstractSpinBox::up-button:hover, QAbstractSpinBox::down-button:hover {{ background: {grid}; }}
QAbstractSpinBox::up-arrow {{ image: {up_url}; width: 10px; height: 8px; }}
QAbstractSpinBox::down-arrow {{ image: {down_url}; width: 10px; height: 8px; }}
QAbstractSpinBox::up-arrow:off, QAbstractSpinBox::down-arrow:off {{ image: none; }}
QComboBox {{ padding-right: 22px; }}
QComboBox::drop-down {{
    subcontrol-origin: border; subcontrol-position: center right; width: 22px; border: none; background: none;
}}
QComboBox::down-arrow {{ image: {down_url}; width: 10px; height: 8px; }}
QComboBox QAbstractItemView {{ background: {surface}; border: 1px solid {edge}; padding: 2px; }}

QPushButton, QToolButton {{
    background: {raised}; border: 1px solid {edge}; border-radius: 4px; padding: 4px 14px;
}}
QToolButton {{ padding: 4px 8px; border-color: transparent; background: transparent; }}
QToolButton::menu-indicator {{ image: none; }}
QPushButton:hover, QToolButton:hover {{ background: {grid}; border-color: {muted}; }}
QPushButton:pressed, QToolButton:pressed, QToolButton:checked {{ background: {rule}; }}
QPushButton:default {{ background: {accent}; color: {on_accent}; border-color: {accent}; }}
QPushButton:focus {{ border: 2px solid {accent}; padding: 3px 13px; }}
QPushButton:default:focus {{ border-color: {ink}; }}
QToolButton:focus {{ border: 2px solid {accent}; padding: 3px 7px; }}
QPushButton:disabled {{ background: {window}; border-color: {rule}; color: {edge}; }}
QToolButton:disabled {{ color: {edge}; }}

QCheckBox, QRadioButton {{ spacing: 7px; }}
QCheckBox::indicator, QRadioButton::indicator {{
    width: 14px; height: 14px; background: {surface}; border: 1px solid {edge}; border-radius: 4px;
}}
QRadioButton::indicator {{ border-radius: 8px; }}
QCheckBox::indicator:hover, QRadioButton::indicator:hover {{ border-color: {accent}; }}
QCheckBox::indicator:checked {{ background: {accent}; border-color: {accent}; image: {tick_url}; }}
QRadioButton::indicator:checked {{ width: 6px; height: 6px; border: 5px solid {accent}; }}
QCheckBox:focus, QRadioButton:focus {{ color: {accent}; }}
QCheckBox::indicator:focus {{ border: 2px solid {accent}; width: 12px; height: 12px; }}
QCheckBox::indicator:disabled, QRadioButton::indicator:disabled {{
    border-color: {rule}; background: {window};
}}

QSlider::groove:horizontal {{ height: 4px; border-radius: 2px; background: {rule}; }}
QSlider::sub-page:horizontal {{ height: 4px; border-radius: 2px; background: {accent}; }}
QSlider::handle:horizontal {{
    width: 12px; height: 12px; margin: -5px 0;
    border: 1px solid {accent}; border-radius: 7px; background: {raised};
}}
QSlider::handle:horizontal:hover {{ background: {accent}; }}
QSlider::handle:horizontal:focus {{ border: 2px solid {ink}; width: 10px; height: 10px; }}
QProgressBar {{
    border: none; border-radius: 3px; background: {rule}; max-height: 6px; color: transparent;
}}
QProgressBar::chunk {{ background: {accent}; border-radius: 3px; }}

QTabWidget::pane {{ border: none; border-top: 1px solid {rule}; }}
QTabBar {{ background: {window}; }}
QTabBar::tab {{
    background: transparent; color: {muted}; border: none; border-bottom: 2px solid transparent;
    padding: 6px 12px; margin-right: 2px;
}}
QTabBar::tab:hover {{ color: {ink}; }}
QTabBar::tab:selected {{ color: {ink}; border-bottom-color: {accent}; }}
QTabBar::tab:focus {{ color: {accent}; }}
QTabBar#looks::tab {{
    border: 1px solid {rule}; border-radius: 4px; padding: 3px 14px; margin: 3px 4px 3px 0;
}}
QTabBar#looks::tab:hover {{ background: {grid}; border-color: {edge}; }}
QTabBar#looks::tab:selected {{ background: {raised}; border-color: {accent}; color: {accent}; }}
QTabBar#looks::tab:focus {{ border: 2px solid {accent}; padding: 2px 13px; }}

QDockWidget::title {{ background: {window}; border-bottom: 1px solid {rule}; padding: 5px 8px; }}
QMainWindow::separator {{ background: {window}; width: 7px; height: 7px; }}
QMainWindow::separator:hover, QSplitter::handle:hover {{ background: {rule}; }}
QSplitter::handle {{ background: transparent; }}
QSplitter::handle:horizontal {{ width: 7px; }}
QSplitter::handle:vertical {{ height: 7px; }}
QScrollArea {{ border: none; background: transparent; }}
QScrollBar {{ background: transparent; border: none; }}
QScrollBar:vertical {{ width: 11px; }}
QScrollBar:horizontal {{ height: 11px; }}
QScrollBar::handle {{ background: {edge}; border-radius: 2px; margin: 3px; }}
QScrollBar::handle:hover {{ background: {muted}; }}
QScrollBar::handle:vertical {{ min-height: 28px; }}
QScrollBar::handle:horizontal {{ min-width: 28px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}

QMenuBar {{ background: {window}; border-bottom: 1px solid {rule}; }}
QMenuBar::item {{ padding: 5px 10px; background: transparent; border-radius: 4px; }}
QMenuBar::item:selected {{ background: {accent}; color: {on_accent}; }}
QMenu {{ background: {raised}; border: 1px solid {edge}; padding: 4px 0; }}
QMenu::separator {{ height: 1px; background: {rule}; margin: 4px 0; }}
QToolBar {{
    background: {window}; border: none; border-bottom: 1px solid {rule}; padding: 3px; spacing: 4px;
}}
QStatusBar {{ background: {window}; border-top: 1px solid {rule}; }}
QStatusBar::item {{ border: none; }}

QHeaderView {{ background: {raised}; }}
QHeaderView::section {{
    background: {raised}; color: {muted}; border: none; border-bottom: 1px solid {edge}; padding: 4px 7px;
}}
QTableCornerButton::section {{ background: {raised}; border: none; border-bottom: 1px solid {edge}; }}
QTableView, QListView, QTreeView {{
    background: {surface}; border: 1px solid {rule}; border-radius: 4px; gridline-color: {grid};
}}
QTableView:focus, QListView:focus, QTreeView:focus {{ border-color: {accent}; }}
"""
