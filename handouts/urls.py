from django.urls import path

from handouts import home_page, rise_sheet, views

app_name = "handouts"
urlpatterns = [
    path("classes/<str:code>/papers/handouts.pdf", views.all_handouts, name="all"),
    path("classes/<str:code>/papers/handouts/<int:enrollment>.pdf", views.one_handout, name="one"),
    path("classes/<str:code>/papers/preparation.pdf", views.preparation, name="preparation"),
    path("classes/<str:code>/papers/station-cards.pdf", views.station_cards, name="station_cards"),
    path("classes/<str:code>/papers/run-sheet.pdf", views.run_sheet, name="run_sheet"),
    path("recipes/<slug:slug>/rise.pdf", rise_sheet.rise_pdf, name="rise"),
    path("mine/<str:token>/before/", views.homework, name="homework"),
    path("mine/<str:token>/before.pdf", views.homework_pdf, name="homework_pdf"),
    path("mine/<str:token>/handout/", views.student, name="student"),
    path("mine/<str:token>/handout.pdf", views.student_pdf, name="student_pdf"),
    path("mine/<str:token>/home/", home_page.at_home, name="at_home"),
    path("mine/<str:token>/home.pdf", home_page.at_home_pdf, name="at_home_pdf"),
]
