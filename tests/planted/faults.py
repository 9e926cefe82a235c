"""The faults that `python -m tests.planted` plants, and the tests that must notice each."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Fault:
    """was: text with one place in `file`. now: what is put there. tests: the file that must notice."""

    file: str
    was: str
    now: str
    tests: str


FAULTS = (
    Fault("lessonpress/drawing/tags/placing.py", "AWAY = 0.5 ", "AWAY = 0.0 ", "tests/drawing/test_costs.py"),
    Fault("lessonpress/drawing/tags/placing.py", "FAR = 46.0 ", "FAR = 1e9 ", "tests/drawing/test_costs.py"),
    Fault(
        "lessonpress/drawing/tags/placing.py",
        "CROSSED = 3.0 ",
        "CROSSED = 0.0 ",
        "tests/drawing/test_costs.py",
    ),
    Fault(
        "lessonpress/drawing/tags/placing.py",
        "CROSSED_TAG = 400.0 ",
        "CROSSED_TAG = 0.0 ",
        "tests/drawing/test_costs.py",
    ),
    Fault(
        "lessonpress/drawing/tags/placing.py", "ALONG = 80.0 ", "ALONG = 0.0 ", "tests/drawing/test_costs.py"
    ),
    Fault(
        "lessonpress/drawing/tags/placing.py",
        "hidden |= np.abs((headings - way + 90) % 180 - 90) < ASIDE",
        "pass",
        "tests/drawing/test_costs.py",
    ),
    Fault(
        "lessonpress/drawing/tags/placing.py",
        "+ COVERED * self.taken.leader_points_under(boxes, LINE)",
        "",
        "tests/drawing/test_costs.py",
    ),
    Fault(
        "lessonpress/drawing/tags/placing.py",
        '{"words": 120.0, "pm": 200.0}',
        '{"words": 1e9, "pm": 200.0}',
        "tests/drawing/test_costs.py",
    ),
    Fault(
        "lessonpress/drawing/tags/placing.py",
        '{"words": 120.0, "pm": 200.0}',
        '{"words": 120.0, "pm": 1e9}',
        "tests/drawing/test_costs.py",
    ),
    Fault(
        "lessonpress/drawing/tags/ground.py",
        "COVERED = 14.0 ",
        "COVERED = 0.0 ",
        "tests/drawing/test_costs.py",
    ),
    Fault(
        "lessonpress/drawing/tags/ground.py",
        "COVERED_SIGN = 40.0 ",
        "COVERED_SIGN = 0.0 ",
        "tests/drawing/test_costs.py",
    ),
    Fault(
        "lessonpress/drawing/tags/ground.py",
        "COVERED_BODY = 90.0 ",
        "COVERED_BODY = 0.0 ",
        "tests/drawing/test_costs.py",
    ),
    Fault(
        "lessonpress/drawing/chart.py", "HEADROOM = 0.12 ", "HEADROOM = 0.0 ", "tests/drawing/test_chart.py"
    ),
    Fault(
        "lessonpress/drawing/burning.py",
        "ImageOps.mirror(picture) if layout.mirrored else picture.copy()",
        "picture.copy()",
        "tests/drawing/test_burned.py",
    ),
    Fault(
        "lessonpress/drawing/burning.py",
        "mirrored=panel.mirrored)",
        "mirrored=False)",
        "tests/drawing/test_burned.py",
    ),
    Fault(
        "lessonpress/records/problem.py",
        "before - first + len(head)",
        "before - first - len(head)",
        "tests/records/test_problem.py",
    ),
    Fault(
        "lessonpress/records/problem.py",
        "    if problem.nearest:",
        "    if not problem.nearest:",
        "tests/records/test_problem.py",
    ),
    Fault("lessonpress/records/length.py", "0.44704", "0.67056", "tests/records/test_length.py"),
    Fault(
        "lessonpress/records/view.py",
        '("down-the-line", "right"): ("into", +1)',
        '("down-the-line", "right"): ("into", -1)',
        "tests/records/test_view.py",
    ),
    Fault(
        "lessonpress/disk/atomic.py",
        "        if lasting:\n            os.fsync",
        "        if not lasting:\n            os.fsync",
        "tests/disk/test_atomic.py",
    ),
    Fault("lessonpress/disk/lock.py", "    file.truncate()", "    pass", "tests/disk/test_lock.py"),
    Fault("lessonpress/disk/atomic.py", "left.unlink(missing_ok=True)", "pass", "tests/disk/test_atomic.py"),
    Fault(
        "lessonpress/manuscript/lesson/lessonchecks.py",
        'problems.warn(lesson.location_of("updated"), f"{day} is in the future", right)',
        "pass",
        "tests/manuscript/test_mistakes.py",
    ),
    Fault(
        "lessonpress/manuscript/lesson/prose.py",
        "offsets.append(index if index >= 0 else offsets[-1])",
        "offsets.append(start)",
        "tests/manuscript/test_mistakes.py",
    ),
    Fault(
        "lessonpress/manuscript/fields/wording.py",
        "keys = [field.alias or name",
        "keys = [field.alias and name",
        "tests/manuscript/test_mistakes.py",
    ),
    Fault(
        "lessonpress/footage/moments/finding.py",
        "DOWN, THROUGH = 0.9, 0.6 ",
        "DOWN, THROUGH = 9.0, 9.0 ",
        "tests/footage/test_moments.py",
    ),
    Fault(
        "lessonpress/footage/moments/finding.py",
        "BALL = 0.15 ",
        "BALL = 15.0 ",
        "tests/footage/test_moments.py",
    ),
    Fault(
        "lessonpress/footage/moments/finding.py",
        "QUIET = 0.05 ",
        "QUIET = 0.5 ",
        "tests/footage/test_moments.py",
    ),
    Fault(
        "lessonpress/footage/moments/ball.py",
        "AT_ONCE = 2 ",
        "AT_ONCE = 99 ",
        "tests/footage/test_moments.py",
    ),
    Fault(
        "lessonpress/footage/moments/ball.py",
        "STEP = 25.0 ",
        "STEP = 250.0 ",
        "tests/footage/test_moments.py",
    ),
    Fault("lessonpress/footage/pose/runs.py", "SURE = 3.0", "SURE = 300.0", "tests/footage/test_runs.py"),
    Fault("lessonpress/footage/pose/runs.py", "NEARER = 3.0", "NEARER = 3e9", "tests/footage/test_runs.py"),
    Fault(
        "lessonpress/footage/pose/runs.py",
        "LONGER, MOST = 1.15",
        "LONGER, MOST = 11.5",
        "tests/footage/test_runs.py",
    ),
    Fault("lessonpress/intake/events.py", "USUAL = 0.5 ", "USUAL = 0.9 ", "tests/intake/test_events.py"),
    Fault("lessonpress/intake/events.py", "LOOKED_AT = 3 ", "LOOKED_AT = 9 ", "tests/intake/test_events.py"),
    Fault(
        "lessonpress/footage/tracking/offsets.py",
        "known.covariance + noise",
        "noise",
        "tests/footage/test_offsets.py",
    ),
    Fault(
        "lessonpress/footage/tracking/joining.py",
        "part = (frame - early) / (late - early)",
        "part = (frame + early) / (late - early)",
        "tests/footage/test_joining.py",
    ),
    Fault(
        "lessonpress/footage/camera/difference.py",
        "seen[peak + int(after[0])].frame",
        "seen[peak - int(after[0])].frame",
        "tests/footage/test_difference.py",
    ),
    Fault(
        "lessonpress/footage/tracking/club/stick.py",
        "change / math.sqrt(min(steps, 1.0))",
        "change",
        "tests/footage/test_stick.py",
    ),
    Fault(
        "lessonpress/footage/tracking/club/places.py",
        "_reached(chain, firm, clock) & _reached",
        "_reached(chain, firm, clock) | _reached",
        "tests/footage/test_lone.py",
    ),
    Fault(
        "lessonpress/footage/tracking/club/stick.py",
        "carry[TURNING, WAY] = -rate * s",
        "carry[TURNING, WAY] = rate * s",
        "tests/footage/test_stick.py",
    ),
    Fault(
        "lessonpress/footage/tracking/club/ends.py",
        "shaft.end - beyond[0] * shaft.way",
        "shaft.end + beyond[0] * shaft.way",
        "tests/footage/test_spot.py",
    ),
    Fault(
        "lessonpress/footage/tracking/club/spot.py",
        "aside[columns].mean() * normal",
        "-aside[columns].mean() * normal",
        "tests/footage/test_spot.py",
    ),
    Fault(
        "lessonpress/footage/tracking/slide.py",
        "part = (frame - run.start) / (end - run.start)",
        "part = (frame - run.start) / (end + run.start)",
        "tests/footage/test_slide.py",
    ),
    Fault(
        "lessonpress/footage/video/damage.py",
        'every = not (fields or codec == "vp8")',
        'every = not (fields and codec == "vp8")',
        "tests/footage/test_damage.py",
    ),
    Fault(
        "lessonpress/figures/plan/planning.py",
        "if name in planning.site.clips:",
        "if name not in planning.site.clips:",
        "tests/figures/test_planning.py",
    ),
    Fault(
        "lessonpress/figures/bind/timing.py",
        "if start is None or top is None or impact is None:",
        "if start is None and top is None or impact is None:",
        "tests/figures/test_timing.py",
    ),
    Fault(
        "lessonpress/figures/bind/extent.py",
        "if not points or whole:",
        "if not (not points or whole):",
        "tests/figures/test_extent.py",
    ),
    Fault(
        "lessonpress/overlays/shape_of_marks.py",
        "len(written) < least",
        "len(written) <= least",
        "tests/overlays/test_documents.py",
    ),
    Fault(
        "lessonpress/overlays/parts/plane.py",
        "start[1] + (end[1] - start[1]) * share",
        "start[1] + (end[1] + start[1]) * share",
        "tests/overlays/test_documents.py",
    ),
    Fault(
        "lessonpress/overlays/kinds/tilt.py",
        "clockwise * (measured.high - measured.value)",
        "clockwise / (measured.high - measured.value)",
        "tests/overlays/test_documents.py",
    ),
    Fault(
        "lessonpress/drawing/chart.py",
        "width - RIGHT - INDENT",
        "width - RIGHT + INDENT",
        "tests/drawing/test_chart.py",
    ),
    Fault(
        "lessonpress/drawing/chart.py",
        "s.x + BAND / 2 > left - 2",
        "s.x - BAND / 2 > left - 2",
        "tests/drawing/test_chart.py",
    ),
    Fault(
        "lessonpress/pages/cautions.py",
        "        return False",
        "        return True",
        "tests/pages/test_cautions.py",
    ),
    Fault(
        "lessonpress/pages/plates.py",
        "side = round(panel.crop[2] - panel.crop[0])",
        "side = round(panel.crop[2] - panel.crop[1])",
        "tests/pages/test_pictures.py",
    ),
    Fault(
        "lessonpress/pages/markdown.py", "words.append(token.content)", "pass", "tests/pages/test_prose.py"
    ),
    Fault(
        "lessonpress/outlets/diagrams.py",
        "self.position, self.count, suffix, self.size.name)",
        'self.position, self.count, "svg", self.size.name)',
        "tests/outlets/test_diagrams.py",
    ),
    Fault(
        "lessonpress/outlets/sitemap.py",
        "        if changed:",
        "        if not changed:",
        "tests/outlets/test_sitemap.py",
    ),
    Fault(
        "lessonpress/outlets/feeds.py",
        '"name": site.author or site.title}',
        '"name": site.author and site.title}',
        "tests/outlets/test_feeds.py",
    ),
    Fault(
        "lessonpress/outlets/feeds.py",
        "_changed(lesson) for lesson in latest",
        "lesson.date for lesson in latest",
        "tests/outlets/test_feeds.py",
    ),
    Fault(
        "lessonpress/intake/clip.py",
        "clip is None or clip.card is None",
        "clip is None and clip.card is None",
        "tests/intake/test_clip.py",
    ),
    Fault(
        "lessonpress/intake/start.py",
        "if folder.exists() and not folder.is_dir():",
        "if not (folder.exists() and not folder.is_dir()):",
        "tests/intake/test_start.py",
    ),
    Fault(
        "lessonpress/press/cache.py",
        "return content if self._head((content,)) == head else None",
        "return content",
        "tests/press/test_cache.py",
    ),
    Fault(
        "lessonpress/press/schedule.py",
        'path.count("/") == 1',
        'path.count("/") != 1',
        "tests/press/test_run.py",
    ),
    Fault(
        "lessonpress/press/spare.py",
        "if self.left is None or not _has_the_files_of(self.left, self.path):",
        "if self.left is None:",
        "tests/press/test_spare.py",
    ),
    Fault(
        "lessonpress/footage/tracking/club/places.py",
        "if room.end_on and not one.confirmed:",
        "if not room.end_on and not one.confirmed:",
        "tests/footage/test_club.py",
    ),
    Fault(
        "lessonpress/footage/tracking/club/lone.py",
        "dark <= one.level <= bright and small",
        "dark <= bright and small",
        "tests/footage/test_lone.py",
    ),
    Fault(
        "lessonpress/footage/tracking/club/path.py",
        "short and not _long_alone(chosen, one.frame, clock)",
        "short",
        "tests/footage/test_lone.py",
    ),
    Fault(
        "lessonpress/footage/tracking/club/known.py",
        "FASTEST * float(np.median(np.diff(self.seconds))) < 1",
        "FASTEST * float(np.median(np.diff(self.seconds))) > 1",
        "tests/footage/test_club.py",
    ),
    Fault(
        "lessonpress/press/steps/apart.py",
        "if made not in before",
        "if made in before",
        "tests/press/test_apart.py",
    ),
    Fault(
        "lessonpress/press/steps/works.py",
        "if self.sure(key) != hashed:",
        "if self.sure(key) != hashed or key in self.redone:",
        "tests/press/test_edits.py",
    ),
    Fault(
        "lessonpress/cli/glance.py",
        "if states.newest + _TICK <= began:",
        "if states.newest <= began + _TICK:",
        "tests/cli/test_glance.py",
    ),
    Fault(
        "lessonpress/cli/glance.py",
        "{mtime} {ctime} {state.st_ino}",
        "{mtime} {state.st_ino}",
        "tests/cli/test_glance.py",
    ),
    Fault(
        "lessonpress/footage/stills/obscuring.py",
        "max(left + 1, min(box[2]",
        "max(left + 2, min(box[2]",
        "tests/press/test_pictures.py",
    ),
    Fault(
        "lessonpress/cli/exit_codes.py",
        "code == INTERRUPTED and at_work",
        "code != INTERRUPTED and at_work",
        "tests/cli/test_exit_codes.py",
    ),
    Fault(
        "lessonpress/cli/problems.py",
        "'' if count == 1 else 's'",
        "'' if count == 2 else 's'",
        "tests/cli/test_problems.py",
    ),
    Fault(
        "lessonpress/cli/progress.py",
        "self._bars.advance(self._task, count)",
        "pass",
        "tests/cli/test_progress.py",
    ),
    Fault("lessonpress/cli/desk.py", "click.launch(address)", "pass", "tests/cli/test_progress.py"),
    Fault(
        "lessonpress/footage/video/second_decoder.py",
        "any(map(_unlike, frames, others))",
        "False",
        "tests/damaged/test_damaged.py",
    ),
    Fault(
        "lessonpress/footage/video/playing.py",
        " + sum(map(_words, drawn)) % _SUMS",
        "",
        "tests/footage/test_pictures.py",
    ),
    Fault(
        "lessonpress/manuscript/lesson/crowded.py",
        "MOST_OPENED = 40_000 ",
        "MOST_OPENED = 400_000 ",
        "tests/manuscript/test_growth.py",
    ),
    Fault(
        "lessonpress/manuscript/yaml/escapes.py",
        "_ALONE.search(text) or ",
        "",
        "tests/manuscript/test_mistakes.py",
    ),
    Fault(
        "lessonpress/figures/words/labels.py",
        "if long > MOST_DRAWN:",
        "if long > 2 * MOST_DRAWN:",
        "tests/figures/test_labels.py",
    ),
    Fault(
        "lessonpress/drawing/sheets.py",
        "inked.thumbnail((WIDEST_SQUARE, WIDEST_SQUARE))",
        "pass",
        "tests/drawing/test_square.py",
    ),
    Fault(
        "lessonpress/desk/files/answers.py",
        "edit = CardEdit(path=(KEY, asked.finding), was=asked.was, to=asked.to)",
        "edit = CardEdit(path=(KEY, asked.finding), was=None, to=None)",
        "tests/desk/test_lastlook.py",
    ),
    Fault(
        "lessonpress/preflight/rules/typed_number.py",
        "max(measure.uncertainty * size, typed.step / 2)",
        "max(measure.uncertainty * size, typed.step * 9)",
        "tests/preflight/test_rules.py",
    ),
    Fault(
        "lessonpress/preflight/rules/typed_number.py",
        "if not typed.is_range and is_of_a_body(typed, sentence, words):",
        "if not typed.is_range:",
        "tests/preflight/test_rules.py",
    ),
    Fault(
        "lessonpress/preflight/reading/about.py", "_BACK = 4 ", "_BACK = 1 ", "tests/preflight/test_rules.py"
    ),
    Fault(
        "lessonpress/preflight/rules/rights_ending.py",
        "AHEAD = timedelta(days=90)",
        "AHEAD = timedelta(days=91)",
        "tests/preflight/test_clips.py",
    ),
    Fault(
        "lessonpress/preflight/rules/page_weight.py",
        "HEAVIEST = 8_000_000 ",
        "HEAVIEST = 9_000_000 ",
        "tests/preflight/test_pressed.py",
    ),
    Fault(
        "lessonpress/preflight/rules/contrast.py",
        "LEAST = 4.5",
        "LEAST = 4.4",
        "tests/preflight/test_pressed.py",
    ),
    Fault(
        "lessonpress/preflight/finding.py", "_DIGITS = 6 ", "_DIGITS = 0 ", "tests/preflight/test_answers.py"
    ),
    Fault(
        "lessonpress/measure/second/rays.py",
        "* (1 - q / d) - sin * q)",
        "* (1 - q / d) + sin * q)",
        "tests/measure/second/test_rays.py",
    ),
    Fault(
        "lessonpress/measure/second/agreement.py",
        "self.square <= chi_square_limit(self.free)",
        "True",
        "tests/measure/second/test_refused.py",
    ),
    Fault(
        "lessonpress/measure/second/timing.py",
        '0.0 if name == "impact" else',
        "",
        "tests/measure/second/test_pairing.py",
    ),
    Fault(
        "lessonpress/measure/second/spread.py",
        "LOOSER = 2.5 ",
        "LOOSER = 1.0 ",
        "tests/measure/second/test_swings.py",
    ),
    Fault(
        "lessonpress/measure/second/spread.py",
        "(one.square / one.free - one.noise)",
        "(one.square / one.free)",
        "tests/measure/second/test_swings.py",
    ),
    Fault(
        "lessonpress/measure/body/lengths.py",
        "ABOVE_THE_GRIP = 0.10 ",
        "ABOVE_THE_GRIP = 0.40 ",
        "tests/measure/test_limbs.py",
    ),
    Fault(
        "lessonpress/measure/body/linked.py",
        "- link.length) / link.v)",
        "- link.length) / (3 * link.v))",
        "tests/measure/body/test_linked.py",
    ),
    Fault(
        "lessonpress/measure/evaluation.py",
        "WIDEST_DIRECTION = 60.0 ",
        "WIDEST_DIRECTION = 360.0 ",
        "tests/measure/test_limbs.py",
    ),
    Fault(
        "lessonpress/measure/kinds/space.py",
        "np.arctan2(-ball, target)",
        "np.arctan2(ball, target)",
        "tests/measure/second/test_in_space.py",
    ),
    Fault(
        "lessonpress/measure/kinds/plan.py",
        "math.log(0.05)",
        "math.log(0.5)",
        "tests/measure/second/test_plan.py",
    ),
    Fault(
        "lessonpress/figures/bind/likeness.py",
        "UNLIKE_STATURE = 0.06 ",
        "UNLIKE_STATURE = 0.60 ",
        "tests/figures/test_likeness.py",
    ),
    Fault(
        "lessonpress/figures/bind/likeness.py",
        "UNLIKE_CLUB = 0.03 ",
        "UNLIKE_CLUB = 0.30 ",
        "tests/figures/test_likeness.py",
    ),
    Fault(
        "lessonpress/measure/remedies.py", "LARGER = 1.5", "LARGER = 2.5", "tests/measure/test_remedies.py"
    ),
    Fault(
        "lessonpress/measure/remedies.py", "ACROSS = 1.95", "ACROSS = 1.20", "tests/measure/test_remedies.py"
    ),
    Fault(
        "lessonpress/measure/body/definition.py",
        "BODY_U = 0.004 ",
        "BODY_U = 0.001 ",
        "tests/measure/body/test_definition.py",
    ),
    Fault(
        "lessonpress/footage/stills/colours.py",
        "(24, 36), ",
        "",
        "tests/footage/test_profile.py",
    ),
    Fault(
        "lessonpress/footage/stills/photograph.py",
        "plain.info = self._info",
        "plain.info = self.picture.info",
        "tests/press/test_bare.py",
    ),
    Fault(
        "lessonpress/footage/video/contact.py",
        "hidden.get(frame, ())",
        "()",
        "tests/intake/test_sheet.py",
    ),
    Fault(
        "lessonpress/press/cache.py",
        "json.dumps([__version__, key]",
        "json.dumps([key]",
        "tests/press/test_shared_cache.py",
    ),
    Fault(
        "lessonpress/desk/writing/drafting.py",
        "line: new.line - old.line",
        "line: 0",
        "tests/desk/writing/test_writing.py",
    ),
    Fault(
        "lessonpress/desk/writing/drafting.py",
        "lesson.references, asked)",
        "lesson.references,)",
        "tests/desk/writing/test_writing.py",
    ),
    Fault(
        "lessonpress/desk/writing/offers.py",
        "fitting.sort(key=",
        "fitting.sort(reverse=True, key=",
        "tests/desk/writing/test_writing.py",
    ),
    Fault(
        "lessonpress/desk/writing/slips.py",
        "slip.replace(wrong, near, 1)",
        "near",
        "tests/desk/writing/test_writing.py",
    ),
    Fault(
        "lessonpress/desk/files/mentions.py", '("clip", "clips")', '("clip",)', "tests/desk/test_clipnames.py"
    ),
    Fault(
        "lessonpress/desk/files/putaway.py",
        "if names_clip(lesson, name)]",
        "if not lesson]",
        "tests/desk/test_putaway.py",
    ),
    Fault(
        "lessonpress/desk/pages/saving.js",
        "while (before !== begun);",
        "while (savesWaiting());",
        "tests/desk/javascript/test_modules.py",
    ),
    Fault(
        "lessonpress/desk/pages/proofplace.js",
        "SHOWN = 0.3;",
        "SHOWN = 0;",
        "tests/desk/javascript/test_modules.py",
    ),
)
