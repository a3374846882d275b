"""`manage.py gather_texts`: brings the translators' files up to date with the texts of the site."""

from django.core.management.base import BaseCommand

from project import texts


class Command(BaseCommand):
    help = (
        "Gathers every text into project/locale/*/LC_MESSAGES/django.po, keeps what is translated, compiles."
    )

    def handle(self, **options) -> None:
        for language in texts.languages():
            catalog = texts.update(language)
            content = texts.po_text(catalog)
            file = texts.po_file(language)
            if file.read_bytes() != content:
                file.write_bytes(content)
            missing = len(texts.untranslated(catalog))
            self.stdout.write(f"{language}: {len(catalog)} texts, {missing} not translated")
        texts.compile_texts()
