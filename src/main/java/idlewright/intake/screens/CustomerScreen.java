package idlewright.intake.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.intake.CustomerView;
import idlewright.intake.Customers;
import idlewright.intake.Memory;
import idlewright.intake.ShopNotes;
import idlewright.intake.Vehicles;
import idlewright.people.For;
import idlewright.people.Role;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** A customer with their cars; adding and amending one. */
@Controller
@For({Role.WRITER, Role.OWNER})
class CustomerScreen {

    /** What the counter typed. */
    record Form(
            @Nullable String name,
            @Nullable String phone,
            @Nullable String email,
            @Nullable String address,
            @Nullable String contactBy,
            @Nullable String note,
            @Nullable String exemptNumber,
            @Nullable String exemptReason,
            @Nullable String exemptSince) {

        static Form from(CustomerView c) {
            var free = c.taxFree();
            return new Form(
                    c.name(),
                    c.phone(),
                    c.email(),
                    c.address(),
                    c.contactBy(),
                    c.note(),
                    free == null ? null : free.number(),
                    free == null ? null : free.reason(),
                    free == null ? null : free.since().toString());
        }

        Customers.Telling telling() {
            var typing = new Typing();
            LocalDate since = typing.day("exemptSince", exemptSince);
            typing.done();
            return new Customers.Telling(
                    name, phone, email, address, contactBy, note, exemptNumber, exemptReason, since);
        }
    }

    private static final Map<String, String> CHOICES = new LinkedHashMap<>();

    static {
        CHOICES.put("keep", "keep them: there is a reason that weighs more, like a claim or a case before a court");
        CHOICES.put("destroy", "destroy their files; the rows with their hashes stay");
    }

    /** What the owner chose about dossiers with the name. */
    record Choosing(
            @Nullable String choice,
            @Nullable String reason,
            @Nullable List<String> blank) {

        public List<String> ticked() {
            return blank == null ? List.of() : blank;
        }

        Memory.@Nullable Choice chosen() {
            return choice == null || !CHOICES.containsKey(choice)
                    ? null
                    : new Memory.Choice(choice.equals("keep"), reason == null ? "" : reason);
        }
    }

    private final Customers customers;
    private final ShopNotes notes;
    private final Vehicles vehicles;
    private final Problems problems;

    CustomerScreen(Customers customers, ShopNotes notes, Vehicles vehicles, Problems problems) {
        this.notes = notes;
        this.customers = customers;
        this.vehicles = vehicles;
        this.problems = problems;
    }

    @GetMapping("/customers/{id:\\d+}")
    String customer(@PathVariable long id, Model model) {
        CustomerView customer = customers.get(id);
        model.addAttribute("customer", customer);
        model.addAttribute("vehicles", vehicles.of(id));
        model.addAttribute("kept", customer.anonymous() ? customers.kept(id) : List.of());
        return "intake/customer";
    }

    @GetMapping("/customers/{id:\\d+}/export")
    ResponseEntity<Map<String, Object>> export(@PathVariable long id) {
        return ResponseEntity.ok()
                .contentType(MediaType.APPLICATION_JSON)
                .header("Content-Disposition", "attachment; filename=\"customer-" + id + ".json\"")
                .body(customers.export(id));
    }

    @GetMapping("/customers/new")
    String blank(@RequestParam(required = false) @Nullable String name, Model model) {
        model.addAttribute("form", new Form(name, null, null, null, "PHONE", null, null, null, null));
        return "intake/customer-form";
    }

    @PostMapping("/customers")
    String add(@ModelAttribute("form") Form form, Model model) {
        try {
            return "redirect:/customers/" + customers.add(form.telling()).id() + "/vehicles/new";
        } catch (Refused no) {
            return problems.show(model, no, "intake/customer-form");
        }
    }

    @GetMapping("/customers/{id:\\d+}/amending")
    String amending(@PathVariable long id, Model model) {
        CustomerView customer = customers.get(id);
        model.addAttribute("customer", customer);
        model.addAttribute("form", Form.from(customer));
        model.addAttribute("version", customer.version());
        return "intake/customer-form";
    }

    @PostMapping("/customers/{id:\\d+}/amending")
    String amend(@PathVariable long id, @RequestParam int version, @ModelAttribute("form") Form form, Model model) {
        try {
            customers.amend(id, version, form.telling());
            return "redirect:/customers/" + id;
        } catch (Refused no) {
            model.addAttribute("customer", customers.get(id));
            model.addAttribute("version", version);
            return problems.show(model, no, "intake/customer-form");
        }
    }

    @GetMapping("/customers/{id:\\d+}/forgetting")
    @For(Role.OWNER)
    String forgetting(@PathVariable long id, Model model) {
        model.addAttribute("form", new Choosing(null, null, null));
        return choosing(id, model);
    }

    private String choosing(long id, Model model) {
        List<Memory.Kept> kept = customers.kept(id);
        model.addAttribute("customer", customers.get(id));
        model.addAttribute("kept", kept);
        model.addAttribute("asks", kept.stream().anyMatch(Memory.Kept::asks));
        model.addAttribute("choices", CHOICES);
        var written = new LinkedHashMap<String, String>();
        notes.of(id)
                .forEach(note -> written.put(
                        note.key(), "Ticket %d, %s: “%s”".formatted(note.ticket(), note.where(), note.words())));
        model.addAttribute("written", written);
        return "intake/forgetting";
    }

    @PostMapping("/customers/{id:\\d+}/forgetting")
    @For(Role.OWNER)
    String forget(@PathVariable long id, @ModelAttribute("form") Choosing form, Model model) {
        try {
            boolean onlyWords = customers.get(id).anonymous() && !form.ticked().isEmpty() && form.chosen() == null;
            if (!onlyWords) {
                customers.forget(id, form.chosen());
            }
            notes.takeAway(id, form.ticked());
            return "redirect:/customers/" + id;
        } catch (Refused no) {
            return problems.show(model, no, choosing(id, model));
        }
    }
}
