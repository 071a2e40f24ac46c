package idlewright.billing.screens;

import idlewright.billing.DayCloses;
import idlewright.frame.NotFound;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Typing;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.people.Shops;
import java.time.DateTimeException;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;

/** The day's money, counted and closed in the evening. */
@Controller
@For({Role.WRITER, Role.OWNER})
class DayScreen {

    private static final String DAY = "/days/{day:[0-9-]+}";

    /** What was counted. */
    record Form(
            @Nullable String opening,
            @Nullable String counted,
            @Nullable String banked,
            @Nullable String words) {}

    private final DayCloses days;
    private final Shops shops;
    private final Times times;
    private final Problems problems;

    DayScreen(DayCloses days, Shops shops, Times times, Problems problems) {
        this.days = days;
        this.shops = shops;
        this.times = times;
        this.problems = problems;
    }

    @GetMapping("/days")
    String list(Model model) {
        model.addAttribute("closed", days.latest(60));
        model.addAttribute("next", days.next());
        model.addAttribute("today", times.today());
        return "billing/day-list";
    }

    @GetMapping(DAY)
    String day(@PathVariable String day, Model model) {
        DayCloses.Day shown = show(read(day), model);
        model.addAttribute("form", new Form(shown.opening().amount().toPlainString(), null, "0", null));
        return "billing/day";
    }

    @PostMapping(DAY)
    String close(@PathVariable String day, @ModelAttribute("form") Form form, Model model) {
        LocalDate which = read(day);
        try {
            var typing = new Typing();
            var opening = typing.neededAmount(
                    "opening", form.opening(), "Enter what lay in the drawer in the morning, or 0.");
            var counted = typing.neededAmount("counted", form.counted(), "Count the drawer and enter what lies in it.");
            var banked = typing.neededAmount("banked", form.banked(), "Enter what goes to the bank, or 0.");
            typing.done();
            days.close(which, opening, counted, banked, form.words());
            return "redirect:/days/" + which;
        } catch (Refused no) {
            show(which, model);
            return problems.show(model, no, "billing/day");
        }
    }

    private DayCloses.Day show(LocalDate which, Model model) {
        DayCloses.Day day = days.day(which);
        model.addAttribute("day", day);
        model.addAttribute("shop", shops.shop());
        model.addAttribute("future", which.isAfter(times.today()));
        model.addAttribute("currency", day.opening().currency().getCurrencyCode());
        return day;
    }

    private static LocalDate read(String day) {
        try {
            return LocalDate.parse(day);
        } catch (DateTimeException e) {
            throw NotFound.of("day");
        }
    }
}
