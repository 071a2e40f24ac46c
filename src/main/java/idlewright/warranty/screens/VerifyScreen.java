package idlewright.warranty.screens;

import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.people.Public;
import idlewright.people.Shops;
import idlewright.warranty.Dossiers;
import java.io.IOException;
import java.io.UncheckedIOException;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;

/** Anybody may ask whether a dossier is whole and this shop's. Nothing that is sent is kept. */
@Controller
@Public
class VerifyScreen {

    private final Dossiers dossiers;
    private final Shops shops;
    private final Problems problems;

    VerifyScreen(Dossiers dossiers, Shops shops, Problems problems) {
        this.dossiers = dossiers;
        this.shops = shops;
        this.problems = problems;
    }

    @GetMapping("/verify")
    String ask(Model model) {
        return page(model);
    }

    /** The answer is a page, so that nothing of it is written anywhere. */
    @PostMapping("/verify")
    String check(@RequestParam(required = false) @Nullable MultipartFile file, Model model) {
        page(model);
        if (file == null || file.isEmpty()) {
            return problems.show(model, Refused.at("file", "Choose the ZIP of a dossier."), "warranty/verify");
        }
        try (var bytes = file.getInputStream()) {
            model.addAttribute("checked", dossiers.check(bytes));
            return "warranty/verify";
        } catch (Refused no) {
            return problems.show(model, no, "warranty/verify");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private String page(Model model) {
        model.addAttribute("shop", shops.shop());
        model.addAttribute("fingerprints", dossiers.fingerprints());
        return "warranty/verify";
    }
}
