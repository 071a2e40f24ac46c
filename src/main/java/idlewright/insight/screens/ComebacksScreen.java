package idlewright.insight.screens;

import idlewright.frame.NotFound;
import idlewright.frame.Times;
import idlewright.frame.rules.LinePlot;
import idlewright.frame.rules.SharePlot;
import idlewright.insight.Comebacks;
import idlewright.insight.rules.Groups;
import idlewright.insight.rules.HandedThread;
import idlewright.insight.rules.Lasting;
import idlewright.insight.rules.Sorting;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.reference.stats.Proportion;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.util.UriComponentsBuilder;

/** Which repairs came back, how soon, why, and what that cost; each figure leads to the cases behind it. */
@Controller
@For(Role.OWNER)
class ComebacksScreen {

    private static final List<Integer> WINDOWS = List.of(3, 6, 12, 18);
    private static final int MOST_GROUPS = 12;

    /** A sorting as it is shown: its picture, what may be said of it, and how many groups are not drawn. */
    record Shown(Sorting by, SharePlot plot, String said, int more, Map<String, String> names) {}

    /** How many last so many days. */
    record Mark(int days, String lasts, long watched) {}

    private final Comebacks comebacks;
    private final Times times;

    ComebacksScreen(Comebacks comebacks, Times times) {
        this.comebacks = comebacks;
        this.times = times;
    }

    @GetMapping("/comebacks")
    String page(
            @RequestParam(required = false) @Nullable Integer months,
            @RequestParam(required = false) @Nullable String by,
            @RequestParam(required = false) @Nullable String a,
            @RequestParam(required = false) @Nullable String b,
            @RequestParam(defaultValue = "false") boolean technicians,
            @RequestParam(required = false) @Nullable String all,
            Model model) {
        int window = window(months);
        var threads = comebacks.threads(window);
        var returned = threads.stream().filter(HandedThread::cameBack).toList();
        LocalDate today = times.today();
        model.addAttribute("windows", WINDOWS);
        model.addAttribute("months", window);
        model.addAttribute("technicians", technicians);
        model.addAttribute("total", threads.size());
        model.addAttribute("returned", returned.size());
        if (threads.isEmpty()) {
            return "insight/comebacks";
        }
        var share = Proportion.of(returned.size(), threads.size());
        // "3 of 41, 7 %, likely 3 to 19 %": the two counts are links, the rest stands behind them.
        model.addAttribute(
                "likely",
                share.words().substring(share.words().indexOf(',') + 2).replace("likely 0.0 ", "likely 0 "));
        model.addAttribute("small", Groups.small(returned.size(), threads.size()));
        var lasting = Lasting.of(threads, today);
        model.addAttribute("curve", curve(lasting));
        model.addAttribute("marks", marks(lasting, threads, today));
        var sortings = new ArrayList<Shown>();
        for (Sorting sorting : Sorting.values()) {
            if (sorting != Sorting.TECHNICIAN || technicians) {
                Shown shown = shown(
                        comebacks.groups(sorting, threads),
                        window,
                        sorting.word().equals(all));
                if (!shown.names().isEmpty()) {
                    sortings.add(shown);
                }
            }
        }
        model.addAttribute("sortings", sortings);
        model.addAttribute("reasons", comebacks.reasons(threads));
        model.addAttribute(
                "visited",
                returned.stream().filter(thread -> thread.comeback() != null).count());
        model.addAttribute("cost", comebacks.cost(returned));
        model.addAttribute("by", by);
        model.addAttribute("a", a);
        model.addAttribute("b", b);
        if (by != null) {
            compare(sorting(by), a, b, threads, today, model);
        }
        return "insight/comebacks";
    }

    @GetMapping("/comebacks/list")
    String list(
            @RequestParam(required = false) @Nullable Integer months,
            @RequestParam(required = false) @Nullable String by,
            @RequestParam(required = false) @Nullable String key,
            @RequestParam(defaultValue = "all") String show,
            @RequestParam(required = false) @Nullable String reason,
            @RequestParam(defaultValue = "0") int lasted,
            Model model) {
        int window = window(months);
        LocalDate today = times.today();
        var threads = comebacks.threads(window);
        var what = new ArrayList<String>();
        if (by != null && key != null) {
            Sorting sorting = sorting(by);
            var group = comebacks
                    .groups(sorting, threads)
                    .with(key)
                    .findFirst()
                    .orElseThrow(() -> NotFound.of("group " + key));
            threads = group.threads();
            what.add(group.name());
        }
        if (reason != null) {
            threads = threads.stream()
                    .filter(thread ->
                            thread.cameBack() && reason.equals(thread.reason() == null ? "" : thread.reason()))
                    .toList();
            what.add(comebacks.words(reason));
        }
        if (lasted > 0) {
            threads = threads.stream()
                    .filter(thread -> thread.days(today) >= lasted)
                    .toList();
            what.add("watched for %d days or more".formatted(lasted));
        }
        List<HandedThread> found = switch (show) {
            case "returned" -> threads.stream().filter(HandedThread::cameBack).toList();
            case "out" -> threads.stream().filter(thread -> !thread.cameBack()).toList();
            case "visited" ->
                threads.stream()
                        .filter(thread -> thread.cameBack() && thread.comeback() != null)
                        .toList();
            default -> threads;
        };
        model.addAttribute("months", window);
        model.addAttribute("by", by);
        model.addAttribute("key", key);
        model.addAttribute("reason", reason);
        model.addAttribute("lasted", lasted == 0 ? null : lasted);
        model.addAttribute("show", show);
        model.addAttribute("what", String.join(", ", what));
        model.addAttribute("threads", found);
        model.addAttribute("all", threads.size());
        model.addAttribute(
                "back", threads.stream().filter(HandedThread::cameBack).count());
        model.addAttribute("today", today);
        return "insight/comebacks-list";
    }

    private void compare(
            Sorting by,
            @Nullable String a,
            @Nullable String b,
            List<HandedThread> threads,
            LocalDate today,
            Model model) {
        var groups = comebacks.groups(by, threads);
        var names = new LinkedHashMap<String, String>();
        groups.groups().forEach(group -> names.put(group.key(), group.name()));
        model.addAttribute("compared", by);
        model.addAttribute("names", names);
        if (a == null || b == null || a.equals(b) || !names.containsKey(a) || !names.containsKey(b)) {
            return;
        }
        var first = groups.with(a).findFirst().orElseThrow().threads();
        var second = groups.with(b).findFirst().orElseThrow().threads();
        // A thread that stands in both would be compared with itself.
        var onlyFirst = first.stream().filter(thread -> !by.holds(thread, b)).toList();
        var onlySecond = second.stream().filter(thread -> !by.holds(thread, a)).toList();
        if (onlyFirst.isEmpty() || onlySecond.isEmpty()) {
            return;
        }
        model.addAttribute("first", names.get(a));
        model.addAttribute("second", names.get(b));
        model.addAttribute("both", first.size() - onlyFirst.size());
        model.addAttribute("comparison", Lasting.compare(onlyFirst, onlySecond, today));
        double[][] x = Lasting.of(onlyFirst, today).curve();
        double[][] y = Lasting.of(onlySecond, today).curve();
        model.addAttribute(
                "twoCurves",
                LinePlot.titled("Not come back, two groups")
                        .across("days since handing back", "")
                        .up("share", "%")
                        .upFrom(floor(1, x, y), 100)
                        .steps(names.get(a), x[0], x[1])
                        .steps(names.get(b), y[0], y[1])
                        .draw());
    }

    private static LinePlot curve(Lasting lasting) {
        double[][] curve = lasting.curve();
        return LinePlot.titled("Not come back, by days since handing back")
                .across("days since handing back", "")
                .up("share", "%")
                .upFrom(floor(2, curve), 100)
                .steps("not come back", curve[0], curve[1], curve[2], curve[3])
                .draw();
    }

    /** The axis starts at a round share below the lowest, never above half: a steep picture of a small loss would mislead. */
    private static double floor(int row, double[][]... curves) {
        double lowest = 50;
        for (double[][] curve : curves) {
            for (double share : curve[row]) {
                lowest = Math.min(lowest, Math.floor(share / 10) * 10);
            }
        }
        return lowest;
    }

    private static List<Mark> marks(Lasting lasting, List<HandedThread> threads, LocalDate today) {
        var marks = new ArrayList<Mark>();
        for (int day : new int[] {7, 30, 90, 180, 365}) {
            long watched = Lasting.watched(threads, today, day);
            if (watched > 0) {
                marks.add(new Mark(
                        day, lasting.survival().words(day, "days").replaceFirst("^After \\d+ days ", ""), watched));
            }
        }
        return marks;
    }

    private static Shown shown(Groups groups, int months, boolean all) {
        var sketch = SharePlot.titled(
                "Came back, " + groups.by().title().toLowerCase(Locale.ROOT),
                groups.by().heading());
        var drawn = groups.groups().stream().limit(all ? 500 : MOST_GROUPS).toList();
        var names = new LinkedHashMap<String, String>();
        for (Groups.Group group : drawn) {
            var share = group.share();
            names.put(group.key(), group.name());
            sketch.group(
                    group.name(),
                    UriComponentsBuilder.fromPath("/comebacks/list")
                            .queryParam("months", months)
                            .queryParam("by", groups.by().word())
                            .queryParam("key", "{key}")
                            .encode()
                            .buildAndExpand(group.key())
                            .toUriString(),
                    group.returned(),
                    group.whole(),
                    // What is a hair above nought by the last bit of a double would be written 0.0.
                    group.returned() == 0 ? 0 : share.wilsonLow(),
                    share.wilsonHigh());
        }
        return new Shown(
                groups.by(), sketch.draw(), groups.said(), groups.groups().size() - drawn.size(), names);
    }

    private static Sorting sorting(String word) {
        return Arrays.stream(Sorting.values())
                .filter(one -> one.word().equals(word.toLowerCase(Locale.ROOT)))
                .findFirst()
                .orElseThrow(() -> NotFound.of("sorting by " + word));
    }

    private static int window(@Nullable Integer months) {
        return months != null && WINDOWS.contains(months) ? months : 12;
    }
}
