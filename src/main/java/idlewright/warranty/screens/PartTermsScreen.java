package idlewright.warranty.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.repair.SwapView;
import idlewright.repair.Swaps;
import idlewright.warranty.PartTerms;
import idlewright.warranty.PartTerms.Given;
import idlewright.warranty.rules.Giver;
import idlewright.warranty.rules.Promise;
import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What supplier and maker promise on one fitted part. */
@Controller
@For({Role.WRITER, Role.TECHNICIAN, Role.OWNER})
class PartTermsScreen {

    /** What was typed. */
    record Form(
            @Nullable String giver,
            @Nullable String months,
            @Nullable String distance,
            @Nullable String unit,
            @Nullable String falling,
            @Nullable String labour,
            @Nullable String source) {

        /** From what the same one promised last; the source has to be said anew. */
        static Form from(Giver giver, @Nullable Given usual) {
            if (usual == null) {
                return new Form(giver.name(), null, null, "km", "full", "no", null);
            }
            Promise promise = usual.promise();
            return new Form(
                    giver.name(),
                    "" + promise.months(),
                    promise.distance() == null ? null : promise.distance().toPlainString(),
                    promise.unit(),
                    promise.falling() ? "falling" : "full",
                    usual.labour() ? "yes" : "no",
                    null);
        }

        Promise promise(Typing typing) {
            int typed = typing.neededWhole("months", months, "Enter the months, or 0 where nothing is promised.");
            BigDecimal far = typing.count("distance", distance);
            if (typed < 0 || typed > 240) {
                typing.wrong("months", "Enter 0 to 240 months.");
            }
            if (far != null && (far.signum() <= 0 || far.compareTo(new BigDecimal("9999999")) > 0)) {
                typing.wrong("distance", "Enter a distance above zero, or leave it empty when it does not count.");
            }
            if (!"km".equals(unit) && !"mi".equals(unit)) {
                typing.wrong("unit", "Choose kilometres or miles.");
            }
            if (!"full".equals(falling) && !"falling".equals(falling)) {
                typing.wrong("falling", "Choose whether all is paid or a falling share.");
            }
            if (!"yes".equals(labour) && !"no".equals(labour)) {
                typing.wrong("labour", "Choose whether the work is paid too.");
            }
            typing.needed("source", source, "Say where that is written, like: delivery note, card in the box.");
            typing.done();
            return new Promise(typed, far, "mi".equals(unit) ? "mi" : "km", "falling".equals(falling));
        }
    }

    private final PartTerms partTerms;
    private final Swaps swaps;
    private final Problems problems;

    PartTermsScreen(PartTerms partTerms, Swaps swaps, Problems problems) {
        this.partTerms = partTerms;
        this.swaps = swaps;
        this.problems = problems;
    }

    @GetMapping("/swaps/{id:\\d+}/terms")
    String terms(@PathVariable long id, @RequestParam(required = false) @Nullable String giver, Model model) {
        SwapView swap = swaps.get(id);
        Giver asked = Giver.MAKER.name().equals(giver) ? Giver.MAKER : Giver.SUPPLIER;
        String name =
                asked == Giver.MAKER ? swap.fitted().maker() : swap.fitted().supplier();
        Given usual = partTerms.usual(asked, name).orElse(null);
        model.addAttribute("form", Form.from(asked, usual));
        model.addAttribute("usual", usual);
        return show(swap, model);
    }

    @PostMapping("/swaps/{id:\\d+}/terms")
    String keep(@PathVariable long id, @ModelAttribute("form") Form form, Model model, RedirectAttributes after) {
        try {
            var typing = new Typing();
            if (giver(form.giver()) == null) {
                typing.wrong("giver", "Choose who promises it.");
            }
            Promise promise = form.promise(typing);
            Giver giver = giver(form.giver());
            partTerms.keep(
                    id,
                    giver == null ? Giver.SUPPLIER : giver,
                    promise,
                    "yes".equals(form.labour()),
                    form.source() == null ? "" : form.source());
            after.addFlashAttribute("notice", "The promise is kept with the part.");
            return "redirect:/swaps/" + id + "/terms";
        } catch (Refused no) {
            return problems.show(model, no, show(swaps.get(id), model));
        }
    }

    private String show(SwapView swap, Model model) {
        List<Given> given = partTerms.of(swap.id());
        var givers = new LinkedHashMap<String, String>();
        givers.put("SUPPLIER", swap.fitted().supplier() + " (supplier)");
        givers.put("MAKER", swap.fitted().maker() + " (maker)");
        model.addAttribute("swap", swap);
        model.addAttribute("given", given);
        model.addAttribute("givers", givers);
        return "warranty/part-terms";
    }

    private static @Nullable Giver giver(@Nullable String typed) {
        for (Giver each : Giver.values()) {
            if (each.name().equals(typed)) {
                return each;
            }
        }
        return null;
    }
}
